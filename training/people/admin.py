"""People, as staff maintain them."""

from django import forms
from django.contrib import admin
from django.contrib.auth.models import Group as PermissionGroup
from django.db.models import Count
from django.utils.translation import gettext_lazy
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice

from training.deck.codes import check_chosen, tidy_code

from . import sight
from .models import Group, Membership, Reach, Role, User

# Roles decide what a person may do; a second kind of group beside the training
# groups would only confuse.
admin.site.unregister(PermissionGroup)
# Who sees a key can make the codes of its owner: phones are set up and taken off on the site.
admin.site.unregister((TOTPDevice, StaticDevice))
admin.site.site_header = gettext_lazy("Raised Footrope admin")
admin.site.site_title = gettext_lazy("Raised footrope training")
admin.site.index_title = gettext_lazy("Accounts and groups")


class AddUserForm(forms.ModelForm):
    """A person without a password, who sets one by the reset link."""

    class Meta:
        model = User
        fields = ["name", "email", "role"]

    def save(self, commit=True):
        self.instance.set_unusable_password()
        return super().save(commit)


class MembershipInline(admin.TabularInline):
    model = Membership
    extra = 0
    autocomplete_fields = ["group"]


class ReachInline(admin.TabularInline):
    """The harbors that a member of staff is held to; none means the whole fleet."""

    model = Reach
    extra = 0
    verbose_name_plural = gettext_lazy("harbors (blank = whole fleet)")


@admin.register(User)
class UserAdmin(admin.ModelAdmin):
    list_display = ["name", "email", "role", "is_active", "joined"]
    list_filter = ["role", "is_active", "memberships__group"]
    search_fields = ["name", "email"]
    fields = ["name", "email", "role", "is_active", "joined", "last_login"]
    readonly_fields = ["joined", "last_login"]
    inlines = [MembershipInline, ReachInline]

    def get_queryset(self, request):
        return sight.rows(super().get_queryset(request), request.user)

    def formfield_for_choice_field(self, db_field, request, **kwargs):
        # Or staff held to a harbor could make themselves a helper who is held to none.
        if db_field.name == "role" and sight.harbors_of(request.user) is not None:
            kwargs["choices"] = [choice for choice in Role.choices if choice[0] != Role.STAFF]
        return super().formfield_for_choice_field(db_field, request, **kwargs)

    def get_form(self, request, obj=None, change=False, **kwargs):
        if not change:
            kwargs["form"] = AddUserForm
        return super().get_form(request, obj, change=change, **kwargs)

    def get_fields(self, request, obj=None):
        return super().get_fields(request, obj) if obj else AddUserForm.Meta.fields

    def has_change_permission(self, request, obj=None):
        # Or staff could take over an account that may do more than their own.
        if obj is not None and obj.is_superuser and not request.user.is_superuser:
            return False
        if obj is not None and obj.is_staff and sight.harbors_of(request.user) is not None:
            return False
        return super().has_change_permission(request, obj)


class GroupCodeForm(forms.ModelForm):
    """A group whose code others do not guess."""

    def clean_code(self):
        code = tidy_code(self.cleaned_data["code"])
        if code != self.initial.get("code"):
            check_chosen(code, self.data.get("name", ""), self.data.get("harbor", ""))
        return code


@admin.register(Group)
class GroupAdmin(admin.ModelAdmin):
    form = GroupCodeForm
    list_display = ["name", "harbor", "code", "role", "is_open", "members"]
    list_filter = ["role", "is_open", "harbor"]
    search_fields = ["name", "code", "harbor"]

    def get_queryset(self, request):
        found = sight.rows(super().get_queryset(request), request.user)
        return found.annotate(member_count=Count("memberships"))

    def formfield_for_dbfield(self, db_field, request, **kwargs):
        harbors = sight.harbors_of(request.user)
        if db_field.name == "harbor" and harbors is not None:
            return forms.ChoiceField(choices=[(each, each) for each in sorted(harbors)])
        return super().formfield_for_dbfield(db_field, request, **kwargs)

    @admin.display(ordering="member_count")
    def members(self, group):
        return group.member_count
