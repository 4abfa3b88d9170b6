"""Sets and memory in the admin: to be read, never changed."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import AskedAgain, ReadingSet, RuleMemory, SetReading


@admin.register(ReadingSet)
class ReadingSetAdmin(ReadOnlyAdmin):
    list_display = ["user", "purpose", "subject", "made", "finished"]
    list_filter = ["purpose"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]


@admin.register(SetReading)
class SetReadingAdmin(ReadOnlyAdmin):
    list_display = ["set", "number", "focus", "rulebook_name", "passed", "answered"]
    list_filter = ["passed", "difficulty", "rulebook_name"]
    list_select_related = ["set__user"]
    search_fields = ["set__user__name", "set__user__email", "focus"]


@admin.register(RuleMemory)
class RuleMemoryAdmin(ReadOnlyAdmin):
    list_display = ["user", "rulebook_name", "key", "step", "right", "asked", "last_asked", "due"]
    list_filter = ["rulebook_name", "step"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email", "key"]


@admin.register(AskedAgain)
class AskedAgainAdmin(ReadOnlyAdmin):
    list_display = ["user", "rulebook_name", "key", "days", "right", "asked"]
    list_filter = ["right", "rulebook_name"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email", "key"]
