"""What a phone needs to judge a trip as ``whole`` does, as plain data for a script."""

from calendar import month_name
from typing import Any

from rigs.requirements.codend import MESH
from rigs.requirements.questions import TRIP
from rigs.requirements.trip import CAUGHT, HAKE, KEPT, RED_HAKE, REGULATED, WeightKept
from rigs.rules import trip_sheet, waters
from rigs.rules.areas import Area
from rigs.rules.outcomes import CANNOT_TELL, FAIL, FISHERY_MARKS, NOT_MEASURED, PASS, SHEET_MARKS
from rigs.rules.rulebook import FISHERY, Requirement, Season
from rigs.words import guards, species, units

from .entry import AT_ODDS, CAUGHT_AT_ODDS
from .steps import STEPS


def _season(season: Season | None) -> dict[str, Any] | None:
    return None if season is None else {"first": season.first, "last": season.last}


def _area(area: Area) -> dict[str, Any]:
    return {
        "title": area.title,
        "corners": area.corners,
        "season": _season(area.season),
        "closed_by": area.closed_by,
    }


def _limit(requirement: Requirement) -> Any:
    limit = requirement.limit
    match requirement.measure.dimension:
        case "days":
            return [_season(season) for season in limit]
        case "area":
            return [_area(area) for area in limit]
        case "mass by mesh":
            return [
                {"under": row.under, "edge": row.edge + requirement.slack, "most": row.most}
                for row in limit
            ]
    return limit


def requirement_data(requirement: Requirement) -> dict[str, Any]:
    """Return what a script judges ``requirement``, which is about a trip, and words it by."""
    measure = requirement.measure
    data = {
        "dimension": measure.dimension,
        "limit": _limit(requirement),
        "sentences": trip_sheet.sentences(requirement),
        "caution": requirement.caution,
        "is_warning": requirement.basis == FISHERY,
        "of": [question.name for question in measure.asked.asks],
    }
    if isinstance(measure, WeightKept):
        data["group"] = sorted(species.of_group(measure.group))
    if measure.dimension == "mass by mesh":
        data["most"] = {
            name: trip_sheet.most_of(rows) for name, rows in trip_sheet.slices(requirement.limit)
        }
    return data


def rules() -> dict[str, Any]:
    """Return what a script needs besides to read and to judge any trip."""
    return {
        "masses": units.exact_masses(),
        "mass_names": units.mass_names(),
        "heaviest": guards.HEAVIEST,
        "kinds": species.every_name(),
        "mesh_in_use": MESH.name,
        "at_odds": [
            {
                "one": KEPT.name,
                "other": question.name,
                "group": sorted(species.of_group(group)),
                "words": AT_ODDS.format(group=group),
            }
            for question, group in ((HAKE, species.SILVER_AND_OFFSHORE), (RED_HAKE, species.RED))
        ],
        "share_at_odds": {"one": REGULATED.name, "other": CAUGHT.name, "words": CAUGHT_AT_ODDS},
        "waters": waters.script_rules(),
        "months": list(month_name)[1:],
        "just_over": trip_sheet.JUST_OVER,
        "just_under": trip_sheet.JUST_UNDER,
        "line": trip_sheet.LINE,
        "cannot_tell": CANNOT_TELL,
        "warning_marks": {SHEET_MARKS[each]: FISHERY_MARKS[each] for each in (PASS, FAIL)}
        | {NOT_MEASURED: NOT_MEASURED},
        "trip_stop": TRIP,
        "stops": [
            {
                "slug": step.slug,
                "title": step.title,
                "questions": [question.name for question in step.questions],
            }
            for step in STEPS
        ],
    }
