"""Predictions in the admin: to be looked at, never changed."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import Prediction


@admin.register(Prediction)
class PredictionAdmin(ReadOnlyAdmin):
    list_display = ["user", "rulebook_name", "made"]
    list_select_related = ["user"]
    search_fields = ["user__name", "user__email"]
