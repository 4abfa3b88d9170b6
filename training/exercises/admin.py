"""Exercises in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import Assignment, Attempt


@admin.register(Assignment)
class AssignmentAdmin(ReadOnlyAdmin):
    list_display = ["user", "kind", "difficulty", "rulebook_name", "created", "taken", "is_open"]
    list_filter = ["kind", "is_open", "difficulty"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]


@admin.register(Attempt)
class AttemptAdmin(ReadOnlyAdmin):
    list_display = ["assignment", "marks", "out_of", "passed", "handed_in", "noted"]
    list_filter = ["assignment__kind", "passed"]
    list_select_related = ["assignment__user"]
    search_fields = ["assignment__user__name", "assignment__user__email"]
