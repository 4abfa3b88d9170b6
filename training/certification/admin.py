"""Papers in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.exercises.admin import ReadOnlyAdmin

from .models import Change, Correction, Paper, PaperTask


@admin.register(Paper)
class PaperAdmin(ReadOnlyAdmin):
    list_display = ["user", "scheme", "begun", "handed_in", "marks", "out_of", "passed"]
    list_filter = ["scheme", "passed"]
    list_select_related = ["user", "scheme"]
    search_fields = ["user__name", "user__email"]


@admin.register(PaperTask)
class PaperTaskAdmin(ReadOnlyAdmin):
    list_display = ["paper", "number", "kind", "difficulty", "revision", "saved", "marks"]
    list_filter = ["kind"]
    list_select_related = ["paper__user", "paper__scheme"]


@admin.register(Correction)
class CorrectionAdmin(ReadOnlyAdmin):
    list_display = ["paper", "passed", "by", "made"]
    list_select_related = ["paper__user", "paper__scheme", "by"]


@admin.register(Change)
class ChangeAdmin(ReadOnlyAdmin):
    list_display = ["scheme", "by", "made", "outcome", "decided_by", "decided"]
    list_filter = ["outcome"]
    list_select_related = ["scheme", "by", "decided_by"]
