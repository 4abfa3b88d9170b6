"""Versions of rule sets in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import Impact, SentBack, Version, Withdrawal, WithdrawalRequest


@admin.register(Version)
class VersionAdmin(ReadOnlyAdmin):
    list_display = ["name", "version", "effective_from", "standing", "drafted_by", "approved_by"]
    list_filter = ["name"]
    list_select_related = ["drafted_by", "approved_by", "withdrawal"]


@admin.register(SentBack, Withdrawal, WithdrawalRequest)
class WordAdmin(ReadOnlyAdmin):
    list_display = ["version", "by", "made", "reason"]
    list_select_related = ["version", "by"]


@admin.register(Impact)
class ImpactAdmin(ReadOnlyAdmin):
    list_display = ["version", "against", "begun", "finished"]
    list_select_related = ["version"]
