"""Readings in the admin: to be looked at, never changed."""

from django.contrib import admin

from .models import LessonRead


@admin.register(LessonRead)
class LessonReadAdmin(admin.ModelAdmin):
    list_display = ["user", "slug", "read_at"]
    list_filter = ["slug"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]

    def has_add_permission(self, request):
        return False

    def has_change_permission(self, request, obj=None):
        return False

    def has_delete_permission(self, request, obj=None):
        return False
