"""What the check sheet's page on the phone holds besides its questions and its rules."""

from django.urls import reverse
from django.utils.translation import gettext as _

from rigs.check.steps import QUESTIONS
from rigs.requirements.questions import MEASURED, TELLERS, TOLD, TOOLS, WHY_NOT

from . import offline


def _ways(question):
    """Return how an answer to ``question`` can be come by, as choices: how and with what."""
    tools = [(f"{MEASURED} {tool}", str(TOOLS[tool])) for tool in question.tools]
    said = [
        (f"{TOLD} {slug}", _("said by {teller}").format(teller=teller))
        for slug, teller in TELLERS.items()
    ]
    return [*(tools or [(f"{MEASURED} ", str(question.hows[MEASURED]))]), *said]


def _signers():
    """Return who can sign a sheet: role, heading, and whether to note that they declined."""
    return [
        ("officer", _("Officer's signature"), False),
        ("skipper", _("Skipper's signature"), True),
        ("witness", _("Witness's signature"), True),
    ]


def more(request, rules):
    """Add to ``rules``, what the page holds for its scripts; return what its template needs."""
    rules["ways"] = {name: _ways(question) for name, question in QUESTIONS.items()}
    vessels = rules.get("vessels", [])
    return {
        # Another vessel in the register makes no other page.
        "version": offline.version({**rules, "vessels": []}),
        "thrown": f"{reverse('checks:checks')}thrown/",
        "copy": f"{request.get_host()}{reverse('checks:checks')}copy/",
        "signers": _signers(),
        "why_not": [str(words) for words in WHY_NOT.values()],
        "known_vessels": vessels,
    }
