"""Who made an account, and who changed what it may do."""

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy

from .. import sight


@sight.rule(own="person", staff=sight.of_people("person"))
class AccountDeed(models.Model):
    """
    What one person did to the account of another, such as making it; never changed.

    Whoever did it could have the account in hand: see ``people.second``. ``by`` is None for
    what was done on the machine itself, ``agreed_by`` for what took no second person.
    """

    class What(models.TextChoices):
        MADE = "made", gettext_lazy("account made")
        ROLE = "role", gettext_lazy("role changed")
        REACH = "reach", gettext_lazy("harbors changed")
        OPENED = "opened", gettext_lazy("account opened again")
        CLOSED = "closed", gettext_lazy("account closed")
        EMAIL = "email", gettext_lazy("email changed")
        FACTOR = "factor", gettext_lazy("second step of signing in reset")

    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="deeds")
    what = models.CharField(max_length=10, choices=What)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+")
    agreed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    made = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["made", "pk"]

    def __str__(self):
        return f"{self.person}: {self.get_what_display()}"
