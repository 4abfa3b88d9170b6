"""The forms for people's own accounts."""

from django import forms
from django.contrib.auth import forms as auth_forms
from django.contrib.auth import password_validation
from django.core.validators import MaxLengthValidator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from . import guessing, new_email, phones
from .models import Group, User
from .models.users import ReachBy

PASSWORD_HELP = gettext_lazy("At least 8 characters. Three or four plain words make a good one.")


def email_input():
    """Return an input that phones give the right keyboard for."""
    return forms.EmailInput(
        attrs={"autocomplete": "email", "autocapitalize": "none", "spellcheck": "false"}
    )


def password_input(autocomplete, keep=False):
    """
    Return an input whose text a script lets the person see.

    ``autocomplete`` is ``current-password`` or ``new-password``; ``keep`` says
    whether a form that is shown again has it filled in.
    """
    attrs = {"autocomplete": autocomplete, "data-can-show": ""}
    return forms.PasswordInput(attrs=attrs, render_value=keep)


class CodeForm(forms.Form):
    """The code of a group to join; once it is valid, ``group`` is that group."""

    code = forms.CharField(
        label=gettext_lazy("Group code"),
        max_length=40,
        help_text=gettext_lazy(
            "From the person who runs your training. Capitals and spaces do not matter."
        ),
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}
        ),
    )

    group = None
    has_wrong_code = False

    def clean_code(self):
        code = self.cleaned_data["code"]
        if not code:
            return code
        self.group = Group.objects.with_code(code)
        if self.group is None:
            self.has_wrong_code = True
            raise forms.ValidationError(
                _("No group has this code. Check the code you were given, or ask for it again.")
            )
        return code


class SignUpForm(CodeForm):
    """
    One page, four fields; the code says which group the person joins.

    Without ``needs_code`` it can be left blank.
    """

    name = forms.CharField(
        label=gettext_lazy("Your name"),
        max_length=150,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    email = forms.EmailField(label=gettext_lazy("Email"), widget=email_input())
    password = forms.CharField(
        label=gettext_lazy("Password"),
        strip=False,
        max_length=128,
        help_text=PASSWORD_HELP,
        # Filled in again after a mistake elsewhere on the page, so that a person on a
        # phone does not have to type it twice.
        widget=password_input("new-password", keep=True),
    )
    field_order = ["name", "email", "password", "code"]

    def __init__(self, *args, needs_code=True, **kwargs):
        super().__init__(*args, **kwargs)
        if not needs_code:
            self.fields["code"].required = False
            self.fields["code"].label = _("Group code, if you have one")

    def clean_email(self):
        return self.cleaned_data["email"].lower()

    def clean(self):
        cleaned = super().clean()
        if "password" in cleaned:
            person = User(email=cleaned.get("email", ""), name=cleaned.get("name", ""))
            try:
                password_validation.validate_password(cleaned["password"], person)
            except forms.ValidationError as error:
                self.add_error("password", error)
        return cleaned


class SignInForm(auth_forms.AuthenticationForm):
    """Email and password."""

    error_messages = {
        "invalid_login": gettext_lazy("Wrong email or password. Check both and try again."),
        "inactive": gettext_lazy("This account is closed. Ask the person who runs your training."),
    }

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        email = self.fields["username"]
        email.label = _("Email")
        # Django leaves it to the browser to hold to the length.
        email.validators.append(MaxLengthValidator(email.max_length))
        email.widget.input_type = "email"
        email.widget.attrs.update(autocomplete="email", spellcheck="false")
        # The cursor would start past the heading and the way round the menu.
        del email.widget.attrs["autofocus"]
        self.fields["password"].widget = password_input("current-password")

    def clean_username(self):
        new_email.settle_due()
        return self.cleaned_data["username"].strip().lower()


class NameForm(forms.ModelForm):
    """The name that records and certificates carry."""

    class Meta:
        model = User
        fields = ["name"]
        labels = {"name": gettext_lazy("Your name")}
        widgets = {"name": forms.TextInput(attrs={"autocomplete": "name"})}


class PhoneField(forms.CharField):
    """A phone number, as typed."""

    default_validators = [phones.check]

    def __init__(self, **options):
        options.setdefault("widget", forms.TextInput(attrs={"type": "tel", "autocomplete": "tel"}))
        super().__init__(max_length=30, **options)


class ContactForm(forms.ModelForm):
    """How the people who run the training may reach a person; all of it may be left empty."""

    phone = PhoneField(label=gettext_lazy("Phone"), required=False)

    class Meta:
        model = User
        fields = ["phone", "reach_by", "wants_mail"]
        labels = {
            "reach_by": gettext_lazy("Best way to reach you"),
            "wants_mail": gettext_lazy("Email me about sessions and certificates"),
        }
        help_texts = {
            "wants_mail": gettext_lazy(
                "Before your group meets, before a certificate runs out, and when the people who "
                "run your training write to you."
            )
        }

    def clean(self):
        cleaned = super().clean()
        asked = cleaned.get("reach_by") in (ReachBy.CALL, ReachBy.TEXT)
        if asked and not cleaned.get("phone") and "phone" not in self.errors:
            self.add_error("phone", _("Add your number, or choose another way to reach you."))
        return cleaned


class SetPasswordForm(forms.Form):
    """The new password of ``user``, typed once and shown on request."""

    new_password = forms.CharField(
        label=gettext_lazy("New password"),
        strip=False,
        max_length=128,
        help_text=PASSWORD_HELP,
        widget=password_input("new-password"),
    )

    def __init__(self, user, *args, **kwargs):
        self.user = user
        super().__init__(*args, **kwargs)

    def clean_new_password(self):
        password = self.cleaned_data["new_password"]
        password_validation.validate_password(password, self.user)
        return password

    def save(self):
        """Set the password and return the user."""
        self.user.set_password(self.cleaned_data["new_password"])
        self.user.save(update_fields=["password"])
        return self.user


class ChangePasswordForm(SetPasswordForm):
    """The same, for a person who shows that they know the old one."""

    old_password = forms.CharField(
        label=gettext_lazy("Current password"),
        strip=False,
        max_length=128,
        widget=password_input("current-password"),
    )
    field_order = ["old_password", "new_password"]

    def __init__(self, *args, request, **kwargs):
        self.request = request
        super().__init__(*args, **kwargs)

    def clean_old_password(self):
        password = self.cleaned_data["old_password"]
        if not guessing.is_password_of(self.request, self.user, password):
            raise forms.ValidationError(_("That is not your current password. Try again."))
        return password


class AskResetForm(auth_forms.PasswordResetForm):
    """The email to send a link to."""

    email = forms.EmailField(label=gettext_lazy("Email"), max_length=254, widget=email_input())

    def get_users(self, email):
        """Return whoever may sign in by ``email``, those without a password yet included."""
        new_email.settle_due()
        # Staff add people in the admin; the link is how they come by a first password.
        return User.objects.filter(email__iexact=email, is_active=True)
