"""The people who use the site."""

from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.contrib.auth.models import PermissionsMixin
from django.db import models
from django.db.models import F
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from .. import sight
from ..fields import LowercaseEmailField


class Role(models.TextChoices):
    """What a person does here."""

    TRAINEE = "trainee", gettext_lazy("trainee")
    OFFICER = "officer", gettext_lazy("officer")
    STAFF = "staff", gettext_lazy("staff")


class ReachBy(models.TextChoices):
    """How a person would rather be reached; nobody is asked to say it."""

    NOT_SAID = "", gettext_lazy("not said")
    CALL = "call", gettext_lazy("a call")
    TEXT = "text", gettext_lazy("a text message")
    EMAIL = "email", gettext_lazy("an email")


class UserManager(BaseUserManager):
    """Makes users who sign in by email."""

    use_in_migrations = True

    def create_user(self, email, password=None, **fields):
        """
        Return a new, saved user; without a password it cannot sign in yet.

        Raise ValueError without an email address.
        """
        if not email:
            raise ValueError(_("A user needs an email address."))
        user = self.model(email=email, **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def create_superuser(self, email, password=None, **fields):
        """Return a new, saved user who may do everything."""
        given = {"role": Role.STAFF, "whole_fleet": True, **fields}
        return self.create_user(email, password, **given, is_superuser=True)


@sight.rule(staff=sight.people_in_reach)
class User(AbstractBaseUser, PermissionsMixin):
    """A trainee, an officer or a member of staff."""

    email = LowercaseEmailField(gettext_lazy("email"), unique=True)
    name = models.CharField(max_length=150)
    role = models.CharField(max_length=10, choices=Role, default=Role.TRAINEE)
    is_active = models.BooleanField(
        gettext_lazy("may sign in"),
        default=True,
        help_text=gettext_lazy("Uncheck this instead of deleting a person. The record stays."),
    )
    # A yes that somebody gave: staff without it see the harbors of their Reach rows alone.
    whole_fleet = models.BooleanField(
        gettext_lazy("looks after the whole fleet"), default=False, db_default=False
    )
    joined = models.DateTimeField(default=timezone.now, editable=False)
    phone = models.CharField(max_length=30, blank=True)
    reach_by = models.CharField(
        gettext_lazy("reach me by"),
        max_length=10,
        choices=ReachBy,
        blank=True,
        default=ReachBy.NOT_SAID,
    )
    wants_mail = models.BooleanField(
        gettext_lazy("wants email about sessions and certificates"), default=True
    )

    sign_ins_ended = models.PositiveIntegerField(
        gettext_lazy("times all sign-ins were ended"), default=0, db_default=0, editable=False
    )

    USERNAME_FIELD = "email"
    EMAIL_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    objects = UserManager()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self):
        return self.name or self.email

    def get_session_auth_hash(self):
        return self._hash_of_sign_in()

    def get_session_auth_fallback_hash(self):
        for secret in settings.SECRET_KEY_FALLBACKS:
            yield self._hash_of_sign_in(secret)

    def _hash_of_sign_in(self, secret=None):
        """Return what a session was begun with: when it changes, the session ends."""
        # As the database has them: one not read from it yet may hold an email in capitals.
        known = (self.password, self.email.lower(), self.role, self.is_superuser)
        text = "\n".join(map(str, (*known, self.sign_ins_ended)))
        return salted_hmac(
            "people.User.sign_in", text, secret=secret, algorithm="sha256"
        ).hexdigest()

    def end_sign_ins(self):
        """Sign the person out on all devices."""
        User.objects.filter(pk=self.pk).update(sign_ins_ended=F("sign_ins_ended") + 1)
        self.refresh_from_db(fields=["sign_ins_ended"])

    def get_full_name(self):
        return self.name

    def get_short_name(self):
        return self.name.split(" ")[0]

    @property
    def is_staff(self):
        """Whether the person looks after others' training."""
        return self.role == Role.STAFF or self.is_superuser

    @property
    def sees_whole_fleet(self):
        """Whether the person is an administrator, or on the staff and held to no harbor."""
        return self.is_superuser or (self.role == Role.STAFF and self.whole_fleet)

    @property
    def is_held(self):
        """Whether the person is on the staff and sees no more than the harbors given to him."""
        return self.is_staff and not self.sees_whole_fleet

    @property
    def is_officer(self):
        """Whether the person checks rigs at sea or at the quay."""
        return self.role == Role.OFFICER
