"""Reading a joint from a request: the conditions by the table's vocabulary, the numbers by the decoder."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, Literal

from pydantic import Field, create_model

from service.api.desk import Desk
from service.api.problems import Problem
from service.api.schemas import Shape
from service.api.schemas.joints import JointAskedBase, LayerAsked, NumberIn, SizeAsked
from service.api.schemas.rivets import RivetCheckAsked
from service.api.schemas.selection import SelectAskedBase
from service.catalogue.catalogue import Catalogue
from service.catalogue.values import Citation
from service.designation.reading import Refusal
from service.joints.assembly import PLACES, Assembly, Layer
from service.joints.findings import JointFinding, NotJudged
from service.joints.formulas.stack import Span, toleranced
from service.mating.clauses import Exact
from service.parts.part import Part
from service.quantity import decimal_text
from service.tables.rows import Condition


def conditions_model(catalogue: Catalogue) -> type[Shape]:
    """A model with one optional member for each condition of the catalogue; any other name is refused."""
    fields: dict[str, Any] = {name: _field(row) for name, row in catalogue.conditions.items()}
    model: type[Shape] = create_model("JointConditions", __base__=Shape, **fields)
    model.__doc__ = "What is known of the joint. What is not stated is not assumed."
    return model


def joint_model(conditions: type[Shape]) -> type[JointAskedBase]:
    """The body of a check: the set and its conditions."""
    fields: dict[str, Any] = {"conditions": (conditions | None, None)}
    model: type[JointAskedBase] = create_model("JointAsked", __base__=JointAskedBase, **fields)
    model.__doc__ = JointAskedBase.__doc__
    return model


def select_model(conditions: type[Shape]) -> type[SelectAskedBase]:
    """The body of a selection: the stack, what is preferred, and the conditions."""
    fields: dict[str, Any] = {"conditions": (conditions | None, None)}
    model: type[SelectAskedBase] = create_model("SelectAsked", __base__=SelectAskedBase, **fields)
    model.__doc__ = SelectAskedBase.__doc__
    return model


def rivet_model(conditions: type[Shape]) -> type[RivetCheckAsked]:
    """The body of a rivet's check: the rivet, its sheets and the conditions."""
    fields: dict[str, Any] = {"conditions": (conditions | None, None)}
    model: type[RivetCheckAsked] = create_model("RivetInJointAsked", __base__=RivetCheckAsked, **fields)
    model.__doc__ = RivetCheckAsked.__doc__
    return model


def _field(row: Condition) -> tuple[Any, Any]:
    words = row.meaning + (f", in {row.unit}" if row.unit else "")
    kind: Any = (
        bool if row.form == "flag" else NumberIn if row.form == "quantity" else Literal[tuple(row.values.split())]
    )
    return (kind | None, Field(None, description=words))


def stated(conditions: Shape | None, catalogue: Catalogue) -> dict[str, Exact]:
    """The conditions as rules ask for them: numbers as Fractions, flags as yes or no, words as they are."""
    found: dict[str, Exact] = {}
    for name in catalogue.conditions:
        value = getattr(conditions, name, None)
        if value is not None:
            found[name] = ("yes" if value else "no") if isinstance(value, bool) else value
    return found


def layers(stack: list[LayerAsked], catalogue: Catalogue) -> tuple[Layer, ...]:
    """The plates of a stack. Raises Problem for a material that is no word of the conditions."""
    words = catalogue.conditions["material"].values.split() if "material" in catalogue.conditions else []
    for index, layer in enumerate(stack):
        if layer.material and layer.material not in words:
            fault = {"at": f"stack/{index}/material", "reason": f"one of {', '.join(words)}"}
            raise Problem(
                "bad-body", f"{layer.material!r} is no material of the table conditions.", {"faults": [fault]}
            )
        if layer.minus >= layer.thickness:
            fault = {"at": f"stack/{index}/minus", "reason": "less than the thickness"}
            raise Problem("bad-body", "A tolerance may not use up the plate.", {"faults": [fault]})
    return tuple(Layer(toleranced(entry.thickness, entry.plus, entry.minus), entry.material) for entry in stack)


class SetReader:
    """Reads the numbers of a set; one that cannot be read is a finding with the decoder's explanation."""

    def __init__(self, desk: Desk, basis: str) -> None:
        self._desk, self._basis = desk, basis
        self.findings: list[JointFinding] = []
        self.missed: list[NotJudged] = []

    def one(self, place: str, asked: str | None) -> Part | None:
        """The part in a place, or None when there is none or it cannot be judged there."""
        if asked is None:
            return None
        found = self._desk.reader.read(asked)
        if isinstance(found, Refusal):
            near = found.neighbours or found.candidates
            text = found.detail + (f" Nearby: {', '.join(near[:4])}." if near else "")
            self._say(f"designation.{found.outcome}", text, asked, found.citation)
            self.missed.append(NotJudged(place.replace("_", " "), f"{asked}: {found.title}", vital=True))
            return None
        if found.family.kind not in PLACES[place]:
            kind = found.family.kind.replace("_", " ")
            wanted = " or ".join(sorted(PLACES[place])).replace("_", " ")
            self._say("set.place", f"{found.number} is a {kind}; here stands a {wanted}.", found.number, None)
            self.missed.append(NotJudged(place.replace("_", " "), f"{found.number} is a {kind}", vital=True))
            return None
        return Part(found, self._basis)

    def many(self, place: str, asked: list[str]) -> tuple[Part, ...]:
        """The parts in a place that can be read, in order."""
        return tuple(part for number in asked if (part := self.one(place, number)) is not None)

    def _say(self, rule: str, text: str, part: str, citation: Citation | None) -> None:
        self.findings.append(JointFinding("caution", "conditions", rule, "designation", text, (part,), citation))

    def assembly(self, asked: JointAskedBase, stack: tuple[Layer, ...], joint: Mapping[str, Exact]) -> Assembly:
        """The set as asked. Raises Problem when nut and plate nut are both given."""
        if asked.nut is not None and asked.plate_nut is not None:
            fault = {"at": "plate_nut", "reason": "a joint has a nut or a plate nut, not both"}
            raise Problem("bad-body", "A nut and a plate nut are given.", {"faults": [fault]})
        return Assembly(
            self.one("fastener", asked.fastener),
            self.many("under_head", asked.under_head),
            self.many("under_nut", asked.under_nut),
            self.one("nut", asked.nut),
            self.one("plate_nut", asked.plate_nut),
            self.one("cotter_pin", asked.cotter_pin),
            self.one("lockwire", asked.lockwire),
            stack,
            None if asked.hole is None else span("hole", asked.hole),
            joint,
            asked.reused_nut_drag,
            measured(asked),
        )


#: the members of a request that give a measured size, and the attribute that it stands for
_MEASURED: Final = {
    "nut_height": "height",
    "nut_slot_bottom": "slot_bottom_height",
    "grip": "grip_length",
    "length": "length",
    "cotter_hole_from_point": "shank_hole_from_point",
}


def span(name: str, size: SizeAsked) -> Span:
    """A size of a request with its tolerance. Raises Problem where the tolerance uses up the size."""
    if size.minus >= size.value:
        fault = {"at": f"{name}/minus", "reason": "less than the size"}
        raise Problem("bad-body", "A tolerance may not use up the size.", {"faults": [fault]})
    return toleranced(size.value, size.plus, size.minus)


def measured(asked: JointAskedBase | SelectAskedBase) -> dict[str, Span]:
    """The measured sizes of a request by the attribute that each stands for."""
    given = {member: getattr(asked, member, None) for member in _MEASURED}
    return {_MEASURED[member]: span(member, size) for member, size in given.items() if size is not None}


def joint_members(joint: Mapping[str, Exact]) -> dict[str, str]:
    """The conditions as they leave the service."""
    return {k: v if isinstance(v, str) else decimal_text(v) for k, v in joint.items()}
