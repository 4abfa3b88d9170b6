"""What a text in YAML is to a person: days, and limits that are lists, line by line."""

from calendar import month_abbr, month_name
from datetime import date, datetime

from rigs import requirements
from rigs.words.say import gettext_lazy

LIST_HELP = {
    "days": gettext_lazy("One season on each line, such as September 1 to December 31."),
    "names": gettext_lazy("One name on each line."),
    "mass by mesh": (
        gettext_lazy(
            "One class of mesh on each line, the smallest first, such as under 2 1/2 in: 3,500 "
            "lb. The last line begins with “other:”. A semicolon parts what may follow: the "
            "kilograms that the regulation prints, and the waters that the line is for."
        )
    ),
    "area": (
        gettext_lazy(
            "First a line with the title of the area. Then, if it has them, a line “open: "
            "September 1 to November 20” and a line “closed by: the shore”. Then its corners in "
            "order, one on each line, such as RF1, 42 14.05, 70 08.8. That is name, latitude "
            "north and longitude west. Leave an empty line between two areas."
        )
    ),
}
DAY_EXAMPLE = "1/31/2027"
OPEN, CLOSED = "open:", gettext_lazy("closed by:")
UNDER, OTHER = "under ", "other"


def as_typed(key, entry):
    """Return the limit ``entry`` of the requirement ``key``, as in YAML, as text for a box."""
    match requirements.find(key).dimension:
        case "days":
            return "\n".join(_season_text(season) for season in entry)
        case "names":
            return "\n".join(entry)
        case "area":
            return "\n\n".join("\n".join(_area_lines(area)) for area in entry)
        case "mass by mesh":
            return "\n".join(_mesh_class_text(row) for row in entry)
        case "flag":
            return ""
    return entry


def _mesh_class_text(row):
    mesh = f"{UNDER}{row['under']}" if "under" in row else OTHER
    told = [row[name] for name in ("most", "metric", "where") if name in row]
    return f"{mesh}: {'; '.join(told)}"


def typed_day(entry):
    """Return a date, as YAML has it, as it is typed: ``1/31/2027``; empty for None."""
    if not entry:
        return ""
    day = date.fromisoformat(entry)
    return f"{day.month}/{day.day}/{day.year}"


def read_day(text):
    """Return the entry for YAML of a date; what is none is left for the rule module to refuse."""
    for written in ("%m/%d/%Y", "%B %d, %Y", "%b %d, %Y"):
        try:
            return datetime.strptime(text.strip(), written).date().isoformat()  # noqa: DTZ007
        except ValueError:
            continue
    return text


def _season_text(season):
    return f"{_month_and_day(season['from'])} to {_month_and_day(season['to'])}"


def _month_and_day(entry):
    month, day = entry.split("-")
    return f"{month_name[int(month)]} {int(day)}"


def _read_month_and_day(text):
    """Return the entry for YAML of ``September 1``, ``Sep 1`` or ``9/1``; else what it was."""
    month, _, day = text.strip().replace("/", " ").partition(" ")
    known = {name.lower(): n for names in (month_name, month_abbr) for n, name in enumerate(names)}
    number = known.get(month.lower().rstrip("."), month)
    if not (str(number).isdecimal() and day.strip().isdecimal()):
        return text.strip()
    return f"{int(number):02}-{int(day):02}"


def _area_lines(area):
    yield area["title"]
    if "season" in area:
        yield f"{OPEN} {_season_text(area['season'])}"
    if "closed_by" in area:
        yield f"{CLOSED} {area['closed_by']}"
    yield from area["corners"]


def read_typed(key, text):
    """Return the entry for YAML that ``text`` stands for; what is wrong in it is left as it is."""
    lines = [line.strip() for line in text.splitlines()]
    match requirements.find(key).dimension:
        case "days":
            return [_read_season(line) for line in lines if line]
        case "names":
            return [line for line in lines if line]
        case "area":
            return [_read_area(block) for block in _blocks(lines)]
        case "mass by mesh":
            return [_read_mesh_class(line) for line in lines if line]
        case "flag":
            return True
    return text


def _read_mesh_class(line):
    mesh, _, rest = line.partition(":")
    most, *more = (part.strip() for part in rest.split(";"))
    row = {"most": most}
    for part in filter(None, more):
        row["metric" if part.endswith("kg") else "where"] = part
    if mesh.strip().lower() == OTHER:
        return row
    return {"under": mesh.strip().removeprefix(UNDER)} | row


def _read_season(line):
    first, _, last = line.partition(" to ")
    return {"from": _read_month_and_day(first), "to": _read_month_and_day(last)}


def _blocks(lines):
    """Yield the runs of lines between empty ones."""
    block = []
    for line in [*lines, ""]:
        if line:
            block.append(line)
        elif block:
            yield block
            block = []


def _read_area(block):
    area = {"title": block[0], "corners": []}
    for line in block[1:]:
        if line.lower().startswith(OPEN):
            area["season"] = _read_season(line[len(OPEN) :])
        elif line.lower().startswith(CLOSED):
            area["closed_by"] = line[len(CLOSED) :].strip()
        else:
            area["corners"].append(line)
    return area


VESSELS = {"over": "over", "up to": "up_to"}


def typed_vessel(entry):
    """Return which vessels a rule holds for: ``over 60 ft (18.3 m)``; empty for all."""
    for words, name in VESSELS.items():
        if entry and name in entry:
            metric = f" ({entry['metric']})" if "metric" in entry else ""
            return f"{words} {entry[name]}{metric}"
    return ""


def read_vessel(text):
    """Return the entry for YAML that ``text`` stands for; it is refused if it says neither."""
    for words, name in VESSELS.items():
        if text.lower().startswith(f"{words} "):
            length, _, metric = text[len(words) :].partition("(")
            made = {name: length.strip()}
            return made | ({"metric": metric.rstrip(") ")} if metric else {})
    return {}


def typed_words(phrases):
    """Return the phrases of a requirement, text by name, as lines for a box."""
    return "\n".join(f"{name}: {text}" for name, text in phrases.items())


def read_words(text):
    """Return the phrases that ``text`` stands for; a line without a name is left as one."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    parts = [line.partition(":") for line in lines]
    return {name.strip(): phrase.strip() for name, _, phrase in parts}
