"""Rounds in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import Call, PracticeRig, Round, Turn


@admin.register(Round)
class RoundAdmin(ReadOnlyAdmin):
    list_display = ["title", "rulebook_name", "rulebook_version", "count", "created", "closed"]
    list_filter = ["rulebook_name"]
    search_fields = ["title"]


@admin.register(Turn)
class TurnAdmin(ReadOnlyAdmin):
    list_display = ["officer", "round", "handed_in"]
    list_select_related = ["officer", "round"]
    search_fields = ["officer__name", "officer__email"]


@admin.register(Call)
class CallAdmin(ReadOnlyAdmin):
    list_display = ["turn", "number", "verdict", "revision", "saved"]
    list_filter = ["verdict"]
    list_select_related = ["turn__officer", "turn__round"]


@admin.register(PracticeRig)
class PracticeRigAdmin(ReadOnlyAdmin):
    list_display = ["turn", "rule", "made", "handed_in"]
    list_select_related = ["turn__officer", "turn__round"]
