"""A rig from the words of a case: see ``cases``."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from rigs.words.gear import (
    DIAMOND,
    PORT,
    SIDES,
    SQUARE,
    STARBOARD,
    Codend,
    Dropper,
    Float,
    Footrope,
    Grate,
    GroundCable,
    Headrope,
    Leg,
    Noted,
    Rig,
    Sweep,
)
from rigs.words.units import parse_length

UNKNOWN = "unknown"
NONE = "none"

Words = Mapping[str, Any]
"""What a case says of a rig or a part of it, by name."""


def _length(text: object) -> float | None:
    return None if text in (UNKNOWN, None) else parse_length(str(text), bare=None)


def _known(text: object) -> float:
    length = _length(text)
    if length is None:
        raise ValueError(f"“{text}” is not a length")
    return length


def _flag(value: Any) -> bool | None:
    if value not in (True, False, UNKNOWN):
        raise ValueError(f"“{value}” is not yes, no or unknown")
    return None if value == UNKNOWN else value


def _place(text: str, rope: Footrope | None = None) -> float:
    """Return a place in metres from the center: ``center``, ``port 8 ft``, ``1 ft to port``."""
    if text == "center":
        return 0.0
    distance, _, to = text.partition(" to ")
    if to in SIDES:
        return _known(distance) * (-1 if to == PORT else 1)
    side, _, out = text.partition(" ")
    if side not in SIDES or rope is None:
        raise ValueError(f"“{text}” is not a place")
    ends = {"corner": rope.corner(side), "wing end": rope.end(side)}
    if out in ends:
        return ends[out]
    return rope.corner(side) + _known(out) * (-1 if side == PORT else 1)


def _only(told: Words, known: Iterable[str]) -> None:
    if unknown := set(told) - set(known):
        raise ValueError(f"unknown words {', '.join(sorted(map(str, unknown)))}")


def _droppers(told: Any, rope: Footrope, has_sweep: bool) -> tuple[Dropper, ...] | None:
    if told in (NONE, UNKNOWN):
        return () if told == NONE else None
    _only(told, ("at", "also", "without", "but", "length", "chain", "bare"))
    places = [at for at in told["at"] if at not in told.get("without", ())]
    different = told.get("but", {})
    if strangers := set(different) - set(places):
        raise ValueError(f"no dropper hangs at {', '.join(strangers)}")
    found = []
    for name in (*places, *told.get("also", ())):
        each = told | different.get(name, {})
        at = _place(name, rope)
        met = _place(each["meets the sweep"]) if "meets the sweep" in each else at
        found.append(
            Dropper(
                at,
                _length(each["length"]),
                _length(each["chain"]),
                each.get("chains", 1),
                _flag(each["bare"]),
                met if has_sweep else None,
            )
        )
    return tuple(sorted(found, key=lambda each: each.position))


def _floats(told: Any, headrope: float | None) -> tuple[Float, ...] | None:
    if told in (NONE, UNKNOWN):
        return () if told == NONE else None
    _only(told, ("number", "size", "span", "but", "without", "also"))
    # Where the headrope is not measured somebody has still counted its floats.
    span = _known(told["span"]) if "span" in told else headrope or 1.0
    gaps = told["number"] - 1
    found = [
        Float(span * (i / gaps - 0.5), _length((told | told.get("but", {}).get(i, {}))["size"]))
        for i in range(told["number"])
        if i not in told.get("without", ())
    ]
    found += [Float(_place(at), _length(told["size"])) for at in told.get("also", ())]
    return tuple(sorted(found, key=lambda each: each.position))


def _sides(told: Words, both: str, one: str) -> Iterator[tuple[str, Words]]:
    """Yield (side, words) from what is said of both sides and of one; none for one left out."""
    for side in SIDES:
        own = told.get(one.format(side), {})
        if own != NONE and both in told:
            yield side, {**told[both], **own}


def _leg(side: str, told: Words) -> Leg:
    _only(told, ("top", "bottom", "top wire", "bottom wire", "extended", "bare"))
    return Leg(
        side,
        _length(told["top"]),
        _length(told["bottom"]),
        _length(told["top wire"]),
        _length(told["bottom wire"]),
        _flag(told["extended"]),
        _flag(told["bare"]),
    )


def _cable(side: str, told: Words) -> GroundCable:
    _only(told, ("length", "wire", "bare"))
    return GroundCable(side, _length(told["length"]), _length(told["wire"]), _flag(told["bare"]))


def _sweep(told: Any) -> Sweep | None:
    if told == NONE:
        return None
    _only(told, ("port", "starboard", "chain", "bare", "joins"))
    return Sweep(
        _length(told["port"]),
        _length(told["starboard"]),
        _length(told["chain"]),
        _flag(told.get("bare", True)),
        _flag(told.get("joins", True)),
    )


def _codend(told: Words) -> Codend:
    _only(told, ("mesh", "meshes", "bars", "top clear", "mesh clear"))
    bars = told.get("bars")
    counted = bars if bars is not None else told.get("meshes")
    return Codend(
        _length(told["mesh"]),
        None if counted == UNKNOWN else counted,
        DIAMOND if bars is None else SQUARE,
        top_clear=_flag(told.get("top clear", UNKNOWN)),
        mesh_clear=_flag(told.get("mesh clear", UNKNOWN)),
    )


def _grate(told: Any) -> Grate | None:
    if told == NONE:
        return None
    _only(told, ("bars apart", "width", "outlet", "stiff", "forward of the codend"))
    return Grate(
        _length(told["bars apart"]),
        _length(told["width"]),
        _length(told["outlet"]),
        _flag(told["stiff"]),
        _flag(told["forward of the codend"]),
    )


_WORDS = (
    *(
        "also noted",
        "headrope",
        "bosom",
        "wings",
        "port wing",
        "starboard wing",
        "off the bottom",
        "vessel",
    ),
    *("floats", "droppers", "sweep", "codend", "grate", "legs", "cables", "also noted"),
    *(f"{side} {part}" for side in SIDES for part in ("legs", "cable")),
)


def rig_from(told: Words) -> Rig:
    """
    Return the Rig of which ``told``, a mapping as in a case, are the words.

    Raise ValueError or KeyError, naming the words, for what is not understood or missing.
    """
    _only(told, _WORDS)
    wings = {side: _known(told.get(f"{side} wing", told["wings"])) for side in SIDES}
    rope = Footrope(
        _known(told["bosom"]), wings[PORT], wings[STARBOARD], _flag(told["off the bottom"])
    )
    head = _length(told["headrope"])
    sweep = _sweep(told["sweep"])
    return Rig(
        headrope=Headrope(head),
        footrope=rope,
        droppers=_droppers(told["droppers"], rope, sweep is not None),
        floats=_floats(told["floats"], head),
        legs=tuple(_leg(*each) for each in _sides(told, "legs", "{} legs")),
        ground_cables=tuple(_cable(*each) for each in _sides(told, "cables", "{} cable")),
        sweep=sweep,
        codend=_codend(told["codend"]) if "codend" in told else None,
        grate=_grate(told["grate"]) if "grate" in told else None,
        vessel_length=_length(told.get("vessel")),
        noted=tuple(
            Noted(what, _flag(value)) for what, value in told.get("also noted", {}).items()
        ),
    )
