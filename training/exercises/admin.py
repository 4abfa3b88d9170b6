"""Exercises in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.people.backends import show_records

from .models import Assignment, Attempt

show_records(Assignment, Attempt)


class ReadOnlyAdmin(admin.ModelAdmin):
    """Shows records that nobody may change, since marks must stay as they were given."""

    def has_add_permission(self, request):
        return False

    def has_change_permission(self, request, obj=None):
        return False

    def has_delete_permission(self, request, obj=None):
        return False


@admin.register(Assignment)
class AssignmentAdmin(ReadOnlyAdmin):
    list_display = ["user", "kind", "difficulty", "rulebook_name", "created", "is_open"]
    list_filter = ["kind", "is_open", "difficulty"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]


@admin.register(Attempt)
class AttemptAdmin(ReadOnlyAdmin):
    list_display = ["assignment", "marks", "out_of", "passed", "handed_in"]
    list_filter = ["assignment__kind", "passed"]
    list_select_related = ["assignment__user"]
    search_fields = ["assignment__user__name", "assignment__user__email"]
