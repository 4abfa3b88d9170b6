"""Groups, as staff maintain them."""

from django import forms
from django.contrib import admin
from django.db.models import Count

from .models import Group
from .reach import harbours_of, within


@admin.register(Group)
class GroupAdmin(admin.ModelAdmin):
    list_display = ["name", "harbour", "code", "role", "is_open", "members"]
    list_filter = ["role", "is_open", "harbour"]
    search_fields = ["name", "code", "harbour"]

    def get_queryset(self, request):
        found = within(super().get_queryset(request), request.user)
        return found.annotate(member_count=Count("memberships"))

    def formfield_for_dbfield(self, db_field, request, **kwargs):
        harbours = harbours_of(request.user)
        if db_field.name == "harbour" and harbours is not None:
            return forms.ChoiceField(choices=[(each, each) for each in sorted(harbours)])
        return super().formfield_for_dbfield(db_field, request, **kwargs)

    @admin.display(ordering="member_count")
    def members(self, group):
        return group.member_count
