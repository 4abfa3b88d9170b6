"""Readings in the admin: to be looked at, never changed."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import LessonRead


@admin.register(LessonRead)
class LessonReadAdmin(ReadOnlyAdmin):
    list_display = ["user", "slug", "read_at"]
    list_filter = ["slug"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]
