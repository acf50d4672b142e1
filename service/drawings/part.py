"""The drawing of a part."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from service.drawings import fittings, flats, nuts, pins, plate_nuts, shanks
from service.drawings.known import Known, shown
from service.drawings.marking import Drafted
from service.drawings.page import Ground, Words, sheet
from service.parts.part import Part

Shape = Callable[[Known], list[Drafted]]

#: kind of part -> how it is drawn; a shape that finds nothing to draw leaves the part to the plain fallback
_SHAPES: Final[Mapping[str, Shape]] = {
    **dict.fromkeys(("bolt", "screw", "rivet", "blind_rivet", "pin_rivet", "rivet_nut"), shanks.views),
    **dict.fromkeys(
        ("taper_pin", "dowel_pin", "spring_pin", "lock_pin"), lambda known: shanks.views(known, "headless")
    ),
    "clevis_pin": lambda known: shanks.views(known, "flat"),
    "cotter_pin": pins.cotter,
    "lockwire": pins.wire,
    "nut": nuts.views,
    "plate_nut": plate_nuts.views,
    "fitting": fittings.views,
    "washer": flats.views,
    "lock_washer": flats.views,
}

#: words that a drawing repeats because they show on the part
_SHOWN: Final = (("thread", "thread"), ("head_mark", "head mark"), ("material", "material"), ("finish", "finish"))


@dataclass(frozen=True, slots=True)
class Stamp:
    """What every sheet says of its origin: the release and the cautions."""

    release: str
    cautions: tuple[str, ...]

    @property
    def lines(self) -> tuple[str, ...]:
        """The closing lines of a sheet."""
        return (*self.cautions, f"Release {self.release}")


def draw_part(part: Part, stamp: Stamp, ground: Ground = "clear") -> bytes:
    """``part`` as a true-scale SVG. What the tables do not give is dashed, and the drawing says so in words."""
    known = Known(part)
    shape = _SHAPES.get(part.family.kind)
    views = shape(known) if shape is not None else []
    if not views:
        known.forget()
        views = pins.plain(known)
        known.outlines("shape")
    words = [shown(name, value) for attribute, name in _SHOWN if (value := known.value(attribute)) is not None]
    notes = small_print(known.notes)
    held = not_held(known.outlined) if views else ["No size held: nothing can be drawn to scale."]
    values = [*known.lines(), *words]
    return sheet(views, Words(part.number, part.family.title, values, notes, (), stamp.lines, held), ground)


def small_print(notes: Sequence[str]) -> list[str]:
    """Notes as sentences, each once, with what dashed lines are where there are some."""
    lines = list(dict.fromkeys(f"{note.rstrip('.')}." for note in notes))
    if any("outline" in line or "dashed" in line for line in lines):
        lines.append("Dashed lines are proportion, not data: do not measure them.")
    return lines


def not_held(outlined: Sequence[str], between: str = ", ") -> list[str]:
    """What the picture itself says of sizes that it has not: nothing where all are held."""
    if list(outlined) == ["shape"]:
        return ["Shape not held: only what is dimensioned is drawn."]
    return [f"Dashed, size not held: {between.join(dict.fromkeys(outlined))}."] if outlined else []
