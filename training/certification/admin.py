"""Exams in the admin: to be read, never changed and never deleted."""

from django.contrib import admin

from training.deck.admin import ReadOnlyAdmin

from .models import Change, Correction, Exam, ExamTask


@admin.register(Exam)
class ExamAdmin(ReadOnlyAdmin):
    list_display = ["user", "requirements", "begun", "handed_in", "marks", "out_of", "passed"]
    list_filter = ["requirements", "passed"]
    list_select_related = ["user", "requirements"]
    search_fields = ["user__name", "user__email"]


@admin.register(ExamTask)
class ExamTaskAdmin(ReadOnlyAdmin):
    list_display = ["exam", "number", "kind", "difficulty", "revision", "saved", "marks"]
    list_filter = ["kind"]
    list_select_related = ["exam__user", "exam__requirements"]


@admin.register(Correction)
class CorrectionAdmin(ReadOnlyAdmin):
    list_display = ["exam", "passed", "by", "made"]
    list_select_related = ["exam__user", "exam__requirements", "by"]


@admin.register(Change)
class ChangeAdmin(ReadOnlyAdmin):
    list_display = ["requirements", "by", "made", "outcome", "decided_by", "decided"]
    list_filter = ["outcome"]
    list_select_related = ["requirements", "by", "decided_by"]
