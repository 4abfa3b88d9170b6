from django.urls import path

from . import check_table, remembered_views, sum_views, uptake_views, views
from .calls import views as call_views
from .meetings import views as meeting_views
from .register import views as register_views
from .season import views as season_views
from .tows import staff_views as evidence_views
from .tows import views as pair_views
from .vessels import event_views, own_views, unmatched_views
from .vessels import views as vessel_views

app_name = "fleet"

urlpatterns = [
    path("checks.csv", check_table.checks_csv, name="checks_csv"),
    path("uptake/", uptake_views.uptake, name="uptake"),
    path("uptake/<slug:key>.csv", uptake_views.uptake_csv, name="uptake_csv"),
    path("uptake/<slug:key>.png", uptake_views.uptake_png, name="uptake_png"),
    path("conversion/", uptake_views.waiting, name="waiting"),
    path("conversion/<slug:key>.csv", uptake_views.waiting_csv, name="waiting_csv"),
    path("conversion/<slug:key>.png", uptake_views.waiting_png, name="waiting_png"),
    path("evidence/", evidence_views.evidence, name="evidence"),
    path("evidence/ratios.csv", evidence_views.evidence_csv, name="evidence_csv"),
    path("evidence/ratios.png", evidence_views.evidence_png, name="evidence_png"),
    path("evidence/pairs.csv", evidence_views.pairs_csv, name="pairs_csv"),
    path("evidence/enter/", evidence_views.pair_owner, name="pair_owner"),
    path("evidence/enter/<int:pk>/", evidence_views.pair_for, name="pair_for"),
    path("report/", season_views.report, name="report"),
    path("report.pdf", season_views.report_pdf, name="report_pdf"),
    path("tows/", pair_views.pairs, name="pairs"),
    path("tows/new/", pair_views.pair_new, name="pair_new"),
    path("tows/<int:pk>/", pair_views.pair_edit, name="pair_edit"),
    path("tows/<int:pk>/delete/", pair_views.pair_delete, name="pair_delete"),
    path("tows/<int:pk>/put-back/", pair_views.pair_restore, name="pair_restore"),
    path("vessels/", vessel_views.vessels, name="vessels"),
    path("vessels.csv", vessel_views.vessels_csv, name="vessels_csv"),
    path("vessels.xlsx", vessel_views.vessels_xlsx, name="vessels_xlsx"),
    path("vessels/new/", vessel_views.vessel_new, name="vessel_new"),
    path("vessels/import/", register_views.import_register, name="import_register"),
    path("vessels/import/<uuid:key>/", register_views.import_draft, name="import_draft"),
    path(
        "vessels/import/<uuid:key>/confirm/", register_views.import_confirm, name="import_confirm"
    ),
    path("vessels/<int:pk>/", vessel_views.vessel, name="vessel"),
    path("vessels/<int:pk>/change/", vessel_views.vessel_edit, name="vessel_edit"),
    path("vessels/<int:pk>/crew/new/", vessel_views.crew_new, name="crew_new"),
    path("crew/<int:pk>/end/", vessel_views.crew_end, name="crew_end"),
    path("vessels/<int:pk>/events/new/", event_views.event_new, name="event_new"),
    path("events/<int:pk>/correct/", event_views.event_correct, name="event_correct"),
    path("events/<int:pk>/withdraw/", event_views.event_withdraw, name="event_withdraw"),
    path("my-vessel/", own_views.own_vessels, name="own_vessels"),
    path("my-vessel/<int:pk>/leave/", own_views.own_vessel_leave, name="own_vessel_leave"),
    path("checks/unmatched/", unmatched_views.unmatched_sheets, name="unmatched_sheets"),
    path("stages/", event_views.stages, name="stages"),
    path("trainees/", views.trainees, name="trainees"),
    path("trainees.csv", views.trainees_csv, name="trainees_csv"),
    path("trainees/<int:pk>/", views.trainee, name="trainee"),
    path("trainees/<int:pk>/rules/", views.trainee_rules, name="trainee_rules"),
    path("trainees/<int:pk>/attempts.csv", views.attempts_csv, name="attempts_csv"),
    path("groups/", views.groups, name="groups"),
    path("groups/<int:pk>/", views.group, name="group"),
    path("groups/<int:pk>/live/", meeting_views.live, name="group_live"),
    path("groups/<int:pk>/sessions/new/", meeting_views.new_session, name="new_session"),
    path("groups/<slug:code>.ics", meeting_views.group_calendar, name="group_calendar"),
    path("sessions/", meeting_views.sessions, name="sessions"),
    path("sessions/<int:pk>/", meeting_views.change_session, name="change_session"),
    path("sessions/<int:pk>/call-off/", meeting_views.call_off, name="call_off"),
    path("sessions/<uuid:uid>.ics", meeting_views.session_calendar, name="session_calendar"),
    path("rules/", sum_views.rules, name="rules"),
    path("rules/<slug:rule>/groups/<int:pk>/", sum_views.missed_by, name="missed_by"),
    path("remembered/", remembered_views.remembered, name="remembered"),
    path("way/", sum_views.way, name="way"),
    path("calls/", call_views.calls, name="calls"),
    path("calls.csv", call_views.calls_csv, name="calls_csv"),
    path("calls/<slug:reason>/", call_views.calls_for, name="calls_for"),
    path("calls/<slug:reason>/<int:pk>/called/", call_views.called, name="called"),
]
