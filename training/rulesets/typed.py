"""Limits that are lists, written into a box line by line and read back."""

from rigs.measures import MEASURES

LIST_HELP = {
    "days": "One season on each line, such as 09-01 to 12-31.",
    "names": "One name on each line.",
    "mass by mesh": (
        "One class of mesh on each line, the smallest first, such as under 2 1/2 in: 3,500 lb. "
        "The last line begins with “other:”. A semicolon parts what may follow: the "
        "kilograms that the regulation prints, and the waters that the line is for."
    ),
    "area": (
        "Each area begins with a line of its title; then, if it has them, lines that begin "
        "with “open:” (09-01 to 11-20) and “closed by:”; then its corners in order, one on "
        "each line, such as RF1, 42 14.05, 70 08.8: name, north latitude and west longitude "
        "in degrees and minutes. An empty line parts one area from the next."
    ),
}
OPEN, CLOSED = "open:", "closed by:"
UNDER, OTHER = "under ", "other"


def as_typed(key, entry):
    """Return the limit ``entry`` of the requirement ``key``, as in YAML, as text for a box."""
    match MEASURES[key].dimension:
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


def _season_text(season):
    return f"{season['from']} to {season['to']}"


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
    match MEASURES[key].dimension:
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
    return {"from": first.strip(), "to": last.strip()}


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
    """Return which vessels a rule holds for, as text: ``over 60 ft``; empty for all."""
    for words, name in VESSELS.items():
        if entry and name in entry:
            return f"{words} {entry[name]}"
    return ""


def read_vessel(text):
    """Return the entry for YAML that ``text`` stands for; it is refused if it says neither."""
    for words, name in VESSELS.items():
        if text.lower().startswith(f"{words} "):
            return {name: text[len(words) :].strip()}
    return {}


def typed_words(phrases):
    """Return the phrases of a requirement, text by name, as lines for a box."""
    return "\n".join(f"{name}: {text}" for name, text in phrases.items())


def read_words(text):
    """Return the phrases that ``text`` stands for; a line without a name is left as one."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    parts = [line.partition(":") for line in lines]
    return {name.strip(): phrase.strip() for name, _, phrase in parts}
