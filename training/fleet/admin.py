"""Groups, as staff maintain them."""

from django.contrib import admin
from django.db.models import Count

from .models import Group


@admin.register(Group)
class GroupAdmin(admin.ModelAdmin):
    list_display = ["name", "harbour", "code", "role", "is_open", "members"]
    list_filter = ["role", "is_open", "harbour"]
    search_fields = ["name", "code", "harbour"]

    def get_queryset(self, request):
        return super().get_queryset(request).annotate(member_count=Count("memberships"))

    @admin.display(ordering="member_count")
    def members(self, group):
        return group.member_count
