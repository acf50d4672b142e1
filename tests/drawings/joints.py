"""Joints that the tests of drawings draw, by what is to be seen in them. Plates and faults are invented."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any, Final

from service.designation.reader import Reader
from service.designation.reading import Designation
from service.drawings.joint import Fault, Given, Joint, Plate
from service.parts.part import Part

Made = Callable[[Reader], Joint]
PLACES: Final = ("nut", "plate_nut", "cotter_pin", "lockwire")


def given(value: str, plus: str = "0", minus: str = "0") -> Given:
    return Given(Fraction(value), Fraction(plus), Fraction(minus))


def plate(text: str) -> Plate:
    """``0.25+.005-.005 spar`` as a plate."""
    size, _, material = text.partition(" ")
    thickness, _, tolerance = size.partition("+")
    plus, _, minus = tolerance.partition("-")
    return Plate(Fraction(thickness), material, Fraction(plus or 0), Fraction(minus or 0))


def joint(fastener: str, *plates: str, head: str = "", under: str = "", **more: Any) -> Made:
    """A joint to be made by a reader; parts are named by their numbers."""

    def made(reader: Reader) -> Joint:
        def part(number: str) -> Part:
            read = reader.read(number)
            assert isinstance(read, Designation), number
            return Part(read)

        named: dict[str, Any] = {name: part(value) if name in PLACES else value for name, value in more.items()}
        washers = (tuple(part(number) for number in side.split()) for side in (head, under))
        heads, nuts = washers
        return Joint(part(fastener), tuple(plate(one) for one in plates), heads, nuts, **named)

    return made


JOINTS: Final[Mapping[str, Made]] = {
    "tolerances": joint(
        "AN4-12A", "0.25+.005-.005 spar", "0.375+.01-.005 fitting", head="AN960-416", under="AN960-416", nut="AN365-428A",
        hole=given("0.25", "0.003"),
    ),
    "thin stack": joint("AN3-3A", "0.032", "0.040", under="AN960-10", nut="AN365-1032A"),
    "thick stack": joint("AN4-40A", "3.5 spruce", head="AN970-4", under="AN970-4", nut="AN365-428A"),
    "many plies": joint("AN5-14A", *["0.063"] * 8, under="AN960-516", nut="MS21044N5"),
    "composite": joint("AN3-10A", "0.4 laminate", "0.25 laminate", head="AN970-3", under="AN970-3", nut="AN365-1032A"),
    "castellated": joint("AN4-12", "0.5", "0.19", under="AN960-416", nut="AN310-4", cotter_pin="MS24665-132"),
    "castellated, measured": joint(
        "NAS6204-12D", "0.5+.01-.01", "0.19", under="AN960-416L", nut="AN310-4", cotter_pin="MS24665-132",
        measured={"height": given("0.28", "0.005", "0.005"), "slot_bottom_height": given("0.19")},
    ),
    "pin without a hole": joint("AN4-12A", "0.69", under="AN960-416", nut="AN310-4", cotter_pin="MS24665-132"),
    "external teeth": joint("AN3-6A", "0.25", "0.125", under="AN936B10", nut="AN315-3R"),
    "internal teeth": joint("AN3-6A", "0.25", "0.125", under="AN936A10", nut="AN315-3R"),
    "split": joint("AN3-6A", "0.25", "0.125", under="MS35338-43", nut="AN315-3R"),
    "plate nut": joint("AN3-4A", "0.125", "0.063", head="AN960-10", plate_nut="MS21047-3"),
    "plate nut, one lug": joint("AN3-4A", "0.125", "0.063", head="AN960-10", plate_nut="MS21051-3"),
    "too short": joint(
        "AN4-5A", "0.5", "0.25", under="AN960-416", nut="AN365-428A", faults=(Fault("protrusion", "No thread shows."),)
    ),
    "grip too long": joint(
        "AN4-20A", "0.25", under="AN960-416", nut="AN365-428A",
        faults=(Fault("grip", "The grip reaches far past the pack: the nut stops on the shank before it clamps."),),
    ),
    "thread in the hole": joint(
        "AN4-4A", "0.25", "0.25", under="AN960-416", nut="AN365-428A", hole=given("0.28"),
        faults=(Fault("thread", "Thread stands in the hole."), Fault("hole", "Too large.")),
    ),
    "missing heights": joint("AN4-12A", "0.5", under="MS20002-4", nut="AN363-428"),
    "unreadable nut": joint("AN4-12A", "0.75", under="AN960-416", unread=("nut AN365-99Z: cannot be read",)),
    "clevis pin": joint("AN393-15", "0.25", "0.125", under="AN960-10", cotter_pin="MS24665-132"),
    "clevis pin, measured": joint(
        "AN393-15", "0.25", "0.1", under="AN960-10", cotter_pin="MS24665-132",
        measured={"length": given("0.6"), "shank_hole_from_point": given("0.1")},
    ),
    "taper pin": joint("AN386-2-7", "0.5", "0.5", under="AN975-3", nut="AN320-4"),
    "countersunk": joint("AN509-10R8", "0.1", "0.2", under="AN960-10", nut="AN365-1032A", hole=given("0.193")),
    "lockwire": joint("AN4H10A", "0.5", "0.25", under="AN960-416", plate_nut="MS21047-4", lockwire="MS20995C32"),
    "wing nut": joint("AN4-12A", "0.5", "0.19", under="AN960-416", nut="AN350-4"),
}  # fmt: skip
