"""
Inviting somebody into a group by a mail alone, as staff held to harbors do.

No account is made or looked up: whoever asks for an email that has one is answered as for any
other, and its person belongs to a harbor only once they joined the group themselves.
"""

from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import gettext as _

from training.people import limits, wanting

ONCE = limits.Limit("invite.key", most=1, minutes=60)
BY_STAFF = limits.Limit("invite.staff", most=200, minutes=60)


def into_group(data, by, address):
    """
    Mail the link to sign up for, or join, the group of ``data``; once for each key.

    ``address`` is where the site is found. Raise OSError if it cannot be sent.
    """
    if ONCE.is_passed(f"key/{data['key']}"):
        return
    group = data["group"]
    context = {"name": data["name"], "by": by, "group": group}
    for name in ("sign_up", "join"):
        path = reverse(f"people:{name}", query={"code": group.code})
        context[name] = address + path
    text = render_to_string("accounts/into_group.txt", context)
    wanting.send_of_account(
        data["email"], _("You are invited to {group}").format(group=group), text
    )
