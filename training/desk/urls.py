from django.urls import path

from training.deck.downloads import both

from . import remembered_views, sum_views, views
from .calls import views as call_views
from .groups import views as group_views
from .meetings import showing_views
from .meetings import views as meeting_views
from .season import views as season_views

app_name = "desk"

urlpatterns = [
    path("report/", season_views.report, name="report"),
    path("report/vessels/", season_views.report_vessels, name="report_vessels"),
    path("report/people/", season_views.report_people, name="report_people"),
    path("report.pdf", season_views.report_pdf, name="report_pdf"),
    path("trainees/", views.trainees, name="trainees"),
    *both("trainees", views.trainees_table, "trainees"),
    path("trainees/<int:pk>/", views.trainee, name="trainee"),
    path("trainees/<int:pk>/record/", views.trainee_record, name="trainee_record"),
    path("trainees/<int:pk>/rules/", views.trainee_rules, name="trainee_rules"),
    *both("trainees/<int:pk>/attempts", views.attempts_table, "attempts"),
    path("groups/", group_views.groups, name="groups"),
    path("groups/new/", group_views.new_group, name="new_group"),
    path("groups/<int:pk>/", group_views.group, name="group"),
    path("groups/<int:pk>/change/", group_views.change_group, name="change_group"),
    path("groups/<int:pk>/close/", group_views.close_group, name="close_group"),
    path("groups/<int:pk>/members/", group_views.group_members, name="group_members"),
    path("groups/<int:pk>/live/", showing_views.live, name="group_live"),
    path("groups/<int:pk>/code/", showing_views.group_code, name="group_code"),
    path("groups/<int:pk>/sessions/new/", meeting_views.new_session, name="new_session"),
    path("sessions/", meeting_views.sessions, name="sessions"),
    path("sessions/<int:pk>/", meeting_views.session, name="session"),
    path("sessions/<int:pk>/change/", meeting_views.change_session, name="change_session"),
    path("sessions/<int:pk>/call-off/", meeting_views.call_off, name="call_off"),
    path("sessions/<int:pk>/came/", meeting_views.mark_came, name="mark_came"),
    path("sessions/<int:pk>/others/", meeting_views.count_others, name="count_others"),
    path("sessions/<int:pk>/code/", showing_views.session_code, name="session_code"),
    path("sessions/<int:pk>/sign-in.pdf", showing_views.sign_in_sheet, name="sign_in_sheet"),
    *(
        path(
            f"sessions/<int:pk>/poster.{ending}",
            showing_views.poster,
            {"ending": ending},
            name=f"poster_{ending}",
        )
        for ending in ("pdf", "png")
    ),
    path("rules/", sum_views.rules, name="rules"),
    path("rules/<slug:rule>/groups/<int:pk>/", sum_views.missed_by, name="missed_by"),
    path("remembered/", remembered_views.remembered, name="remembered"),
    path("remembered/sheets/", remembered_views.sheets, name="remembered_sheets"),
    *both("remembered/sheets", remembered_views.sheets_table, "remembered_sheets"),
    path("remembered/questions/", remembered_views.questions, name="remembered_questions"),
    *both("remembered/questions", remembered_views.questions_table, "remembered_questions"),
    path("way/", sum_views.way, name="way"),
    path("calls/", call_views.calls, name="calls"),
    *both("calls", call_views.calls_table, "calls"),
    path("calls/<slug:reason>/", call_views.calls_for, name="calls_for"),
    *both("calls/<slug:reason>", call_views.calls_for_table, "calls_for"),
    path("calls.pdf", call_views.calls_print, name="calls_print"),
    path("calls/<slug:of>/<int:pk>/", call_views.call, name="call"),
    path("calls/<slug:of>/<int:pk>/called/", call_views.called, name="called"),
    path("calls/<slug:of>/<int:pk>/give/", call_views.call_give, name="call_give"),
    path("calls/<slug:of>/<int:pk>/take-back/", call_views.call_take_back, name="call_take_back"),
    path("calls/person/<int:pk>/number/", call_views.call_number, name="call_number"),
    path("calls/notes/<int:pk>/undo/", call_views.call_undo, name="call_undo"),
    path("calls/notes/<int:pk>/put-back/", call_views.call_put_back, name="call_put_back"),
]
