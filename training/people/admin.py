"""People and groups in the admin: to be looked at, never changed; the site's own pages do that."""

from django.contrib import admin
from django.db.models import Count
from django.utils.translation import gettext_lazy

from training.deck.admin import ReadOnlyAdmin

from .models import Group, Membership, Reach, User


class ReadOnlyInline(admin.TabularInline):
    """Rows that hang on another, as they are."""

    extra = 0

    def has_add_permission(self, request, obj=None):
        return False

    def has_change_permission(self, request, obj=None):
        return False

    def has_delete_permission(self, request, obj=None):
        return False


class MembershipInline(ReadOnlyInline):
    model = Membership


class ReachInline(ReadOnlyInline):
    """The harbors that a member of staff is held to."""

    model = Reach
    verbose_name_plural = gettext_lazy("harbors")


@admin.register(User)
class UserAdmin(ReadOnlyAdmin):
    list_display = ["name", "email", "role", "whole_fleet", "is_active", "joined"]
    list_filter = ["role", "whole_fleet", "is_active", "memberships__group"]
    search_fields = ["name", "email"]
    fields = [
        *("name", "email", "role", "whole_fleet", "is_superuser"),
        *("is_active", "joined", "last_login"),
    ]
    inlines = [MembershipInline, ReachInline]


@admin.register(Group)
class GroupAdmin(ReadOnlyAdmin):
    list_display = ["name", "harbor", "code", "role", "is_open", "members"]
    list_filter = ["role", "is_open", "harbor"]
    search_fields = ["name", "code", "harbor"]

    def get_queryset(self, request):
        return super().get_queryset(request).annotate(member_count=Count("memberships"))

    @admin.display(ordering="member_count")
    def members(self, group):
        return group.member_count
