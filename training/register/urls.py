from django.urls import path

from training.deck.downloads import both

from . import uptake_views
from .table import views as table_views
from .vessels import (
    event_views,
    harbor_views,
    many_views,
    own_views,
    removal_views,
    unmatched_views,
)
from .vessels import views as vessel_views

app_name = "register"

urlpatterns = [
    path("uptake/", uptake_views.uptake, name="uptake"),
    *both("uptake/<slug:key>", uptake_views.uptake_table, "uptake"),
    path("uptake/<slug:key>.png", uptake_views.uptake_png, name="uptake_png"),
    path("conversion/", uptake_views.waiting, name="waiting"),
    *both("conversion/<slug:key>", uptake_views.waiting_table, "waiting"),
    path("conversion/<slug:key>.png", uptake_views.waiting_png, name="waiting_png"),
    path("vessels/", vessel_views.vessels, name="vessels"),
    *both("vessels", vessel_views.vessels_table, "vessels"),
    path("vessels/new/", vessel_views.vessel_new, name="vessel_new"),
    path("vessels/import/", table_views.import_register, name="import_register"),
    path("vessels/import/<uuid:key>/", table_views.import_draft, name="import_draft"),
    path("vessels/import/<uuid:key>/columns/", table_views.import_columns, name="import_columns"),
    path(
        "vessels/import/<uuid:key>/questions/",
        table_views.import_questions,
        name="import_questions",
    ),
    path("vessels/import/<uuid:key>/same/", table_views.import_twins, name="import_twins"),
    *both("vessels/import/<uuid:key>/to-mend", table_views.import_mend, "import_mend"),
    path("vessels/import/<uuid:key>/undo/", table_views.import_undo, name="import_undo"),
    path("vessels/import/<uuid:key>/confirm/", table_views.import_confirm, name="import_confirm"),
    path("vessels/removed/", removal_views.removed_vessels, name="removed_vessels"),
    path("removed/<int:pk>/put-back/", removal_views.vessel_put_back, name="vessel_put_back"),
    path("vessels/stage/", many_views.stage_many, name="stage_many"),
    path("vessels/stage/<uuid:key>/", many_views.stage_many_done, name="stage_many_done"),
    path("vessels/stage/<uuid:key>/undo/", many_views.stage_many_undo, name="stage_many_undo"),
    path("vessels/<int:pk>/", vessel_views.vessel, name="vessel"),
    path("vessels/<int:pk>/remove/", removal_views.vessel_remove, name="vessel_remove"),
    path("vessels/<int:pk>/merge/", removal_views.vessel_merge, name="vessel_merge"),
    path("vessels/<int:pk>/change/", vessel_views.vessel_edit, name="vessel_edit"),
    path("vessels/<int:pk>/crew/new/", vessel_views.crew_new, name="crew_new"),
    path("crew/<int:pk>/end/", vessel_views.crew_end, name="crew_end"),
    path("vessels/<int:pk>/events/new/", event_views.event_new, name="event_new"),
    path("events/<int:pk>/correct/", event_views.event_correct, name="event_correct"),
    path("events/<int:pk>/withdraw/", event_views.event_withdraw, name="event_withdraw"),
    path("my-vessel/", own_views.own_vessels, name="own_vessels"),
    path("my-vessel/asked/<int:pk>/", own_views.own_vessel_answer, name="own_vessel_answer"),
    path("my-vessel/<int:pk>/leave/", own_views.own_vessel_leave, name="own_vessel_leave"),
    path("checks/unmatched/", unmatched_views.unmatched_sheets, name="unmatched_sheets"),
    path("stages/", event_views.stages, name="stages"),
    path("harbors/", harbor_views.harbors, name="harbors"),
    path("harbors/<int:pk>/", harbor_views.harbor, name="harbor"),
    path("harbors/spelling/<int:pk>/remove/", harbor_views.spelling_remove, name="spelling_remove"),
]
