"""Every table by name. A new table is a row class and a line here."""

from __future__ import annotations

from service.tables.joint_rows import (
    BlindRivetGrip,
    Drill,
    FastenerHole,
    Galvanic,
    HoleNote,
    Material,
    Practice,
    PreloadFactor,
    PrevailingTorque,
    RivetBoltSubstitution,
    RivetHole,
    RivetRule,
    RivetStrength,
    SheetMaterial,
    SpliceCell,
    SpliceMaterial,
    SpliceTableNote,
    ThreadValue,
    Torque,
    TorqueNote,
)  # fmt: skip
from service.tables.rows import (
    Attribute,
    BasicNumber,
    Caution,
    Cited,
    Code,
    Condition,
    Equivalence,
    Fact,
    Family,
    Gap,
    Law,
    Made,
    Mate,
    Misreading,
    Pair,
    Row,
    Rule,
    Slot,
    Source,
)  # fmt: skip

#: table name -> row class. The order is the order of /v1/tables.
TABLES: dict[str, type[Row]] = {
    "sources": Source,
    "attributes": Attribute,
    "families": Family,
    "basic_numbers": BasicNumber,
    "slots": Slot,
    "codes": Code,
    "facts": Fact,
    "laws": Law,
    "made": Made,
    "gaps": Gap,
    "pairs": Pair,
    "misreadings": Misreading,
    "cautions": Caution,
    "conditions": Condition,
    "rules": Rule,
    "mates": Mate,
    "equivalences": Equivalence,
    "drills": Drill,
    "fastener_holes": FastenerHole,
    "hole_notes": HoleNote,
    "galvanic": Galvanic,
    "materials": Material,
    "practices": Practice,
    "preload_factors": PreloadFactor,
    "prevailing_torques": PrevailingTorque,
    "threads": ThreadValue,
    "torque_notes": TorqueNote,
    "torques": Torque,
    "splice_tables": SpliceCell,
    "splice_materials": SpliceMaterial,
    "splice_table_notes": SpliceTableNote,
    "sheet_materials": SheetMaterial,
    "rivet_strengths": RivetStrength,
    "rivet_holes": RivetHole,
    "blind_rivet_grips": BlindRivetGrip,
    "rivet_bolt_substitution": RivetBoltSubstitution,
    "rivet_rules": RivetRule,
}


def columns(model: type[Row]) -> list[str]:
    """The header of ``model``'s files: the key first, what the row says, its citation last."""
    names = list(model.model_fields)
    tail = [name for name in ("source_id", "locator", "basis", "note") if name in names and issubclass(model, Cited)]
    head = [model.key]
    return [header(name) for name in [*head, *(n for n in names if n not in head and n not in tail), *tail]]


def header(field: str) -> str:
    """The column of ``field``: a trailing underscore only keeps Python words apart."""
    return field.rstrip("_")
