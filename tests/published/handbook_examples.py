"""Worked examples copied from handbooks, standards and lists, each with its source and the place in it.

Examples whose stated meaning is a slip of their document are kept with what is right, and the slip is named. Examples known only from memory are
marked so.
"""

from __future__ import annotations

from typing import NamedTuple


class Example(NamedTuple):
    number: str
    source: str
    locator: str
    meaning: dict[str, str]


BOLTS = [
    Example(
        "AN3DD5A",
        "FAA-H-8083-30 (from-memory)",
        "aircraft bolts, identification",
        {"nominal_size": "#10", "material_group": "aluminium", "nominal_length": "5/8", "shank_drilled": "no"},
    ),
    Example(
        "AN3-12", "builder's note on coding", "coding paragraph", {"nominal_length": "1 1/4", "shank_drilled": "yes"}
    ),
    Example(
        "AN4-H10A",
        "builder's note on coding",
        "coding list",
        {"nominal_diameter": "1/4", "head_drilled": "yes", "nominal_length": "1", "shank_drilled": "no"},
    ),
    Example("AN3-4A", "AN3-AN20 table text", "example 1", {"length": "0.53125", "shank_drilled": "no"}),
    Example("AN3-14A", "AN3-AN20 table text", "example 2", {"length": "1.53125", "shank_drilled": "no"}),
    Example(
        "AN4-7",
        "bolt question page",
        "answer",
        {"nominal_diameter": ".250", "length": "29/32", "head_drilled": "no", "shank_drilled": "yes"},
    ),
    Example(
        "AN4-27A",
        "bolt selection note",
        "whole page",
        {"nominal_length": "2 7/8", "grip_length": "2 7/16", "shank_drilled": "no"},
    ),
    Example("AN10-13", "builder's newsletter", "example", {"nominal_diameter": "5/8", "nominal_length": "1 3/8"}),
    Example(
        "AN6H34A",
        "course notes set 2",
        "drilled-head item",
        {"nominal_diameter": "3/8", "head_drilled": "yes", "nominal_length": "3 1/2", "shank_drilled": "no"},
    ),
    # the note says 1 in long: a slip, -12 is 1 2/8 in
    Example(
        "AN6C-12A",
        "course notes set 2",
        "undrilled-shank item",
        {"nominal_diameter": "3/8", "material_group": "stainless", "nominal_length": "1 1/4", "shank_drilled": "no"},
    ),
    # the notes say 5/8 grip: the dash is the length, the grip is 3/16
    Example(
        "AN4-DD-5A",
        "course notes set 3",
        "part-number item",
        {"nominal_diameter": "1/4", "material_group": "aluminium", "nominal_length": "5/8", "grip_length": "3/16"},
    ),
    Example(
        "AN4H5",
        "course notes set 3",
        "part-number item",
        {"head_drilled": "yes", "nominal_length": "5/8", "grip_length": "3/16", "shank_drilled": "yes"},
    ),
    Example("NAS464-5L20", "grip note", "example", {"grip_length": "1 1/4"}),
    Example(
        "NAS6403U11D",
        "NAS6403 Rev 4",
        "sheets 1-3",
        {"finish_group": "plain", "grip_length": "0.688", "length": "1.011", "shank_drilled": "yes"},
    ),
    Example(
        "NAS6403U14D",
        "NAS6403 Rev 4",
        "sheet 3 row 14",
        {"grip_length": "0.875", "length": "1.198", "shank_drilled": "yes"},
    ),
    Example(
        "NAS6404U13D",
        "NAS6403 Rev 4",
        "sheet 3 row 13",
        {"grip_length": "0.812", "length": "1.182", "shank_drilled": "yes"},
    ),
    Example(
        "NAS6403U13H",
        "NAS6403 Rev 4",
        "sheet 3 row 13",
        {"grip_length": "0.812", "length": "1.135", "head_drilled": "yes"},
    ),
    Example("NAS6203-6", "NAS6203 Rev 10", "Table II row 6", {"grip_length": "0.375", "length": "0.698"}),
    Example("NAS6604-19", "trade description", "title", {"thread": "1/4-28", "grip_length": "1.188"}),
    Example("MS21250-04008", "MS21250 written-out note", "example", {"thread": "1/4-28", "grip_length": "0.500"}),
    Example(
        "MS21250H04004",
        "MS21250 written-out note",
        "example",
        {"thread": "1/4-28", "head_drilled": "yes", "grip_length": "0.250"},
    ),
    Example("MS21250-05022", "MS21250 written-out note", "example", {"thread": "5/16-24", "grip_length": "1.375"}),
    Example(
        "MS21250-05012", "MS21250 written-out note", "example", {"nominal_diameter": "5/16", "grip_length": "0.750"}
    ),
    Example(
        "MS21250H03014",
        "assembly drawing callout",
        "section note",
        {"nominal_diameter": ".190", "grip_length": "0.875", "head_drilled": "yes"},
    ),
]
NUTS = [
    Example(
        "AN310D5R",
        "AC 65-9A",
        "identification and coding",
        {
            "castellated": "yes",
            "alloy": "2024-T",
            "nominal_diameter": "5/16",
            "thread": "5/16-24",
            "thread_direction": "right-hand",
        },
    ),
    Example("AN310-4", "AC 65-9A", "trade guide on AN310/AN320", {"nominal_diameter": "1/4", "castellated": "yes"}),
    Example("AN365-832", "trade article 2006", "p. 1", {"thread": "8-32"}),
    Example("AN365-720C", "NTSB ANC02LA034", "factual summary", {"material_group": "steel", "thread": "7/16-20"}),
    Example(
        "MS21044C7", "NTSB ANC02LA034", "factual summary", {"material_group": "stainless", "tensile_strength": "125000"}
    ),
    Example(
        "MS21044N7", "NTSB ANC02LA034", "factual summary", {"material_group": "steel", "tensile_strength": "125000"}
    ),
    Example("AN365-428", "kit hardware list", "bag 1204-1", {"thread": "1/4-28"}),
    Example("AN365-624A", "kit hardware list", "bag 1204-1", {"thread": "3/8-24"}),
    Example("AN365-632A", "kit hardware list", "bags 1204-1, 1469", {"thread": "6-32"}),
    Example("AN365-832A", "kit hardware list", "bag 1204-1", {"thread": "8-32"}),
    Example("AN365-918A", "kit hardware list", "bag 1204-1", {"thread": "9/16-18"}),
    Example("MS21044N04", "kit hardware list", "bags 1206, 1469", {"thread": "4-40"}),
    Example("MS21083N3", "kit hardware list", "bag 1206", {"thread": "10-32", "height_form": "thin"}),
    Example("AN316-4R", "kit hardware list", "bag 1206", {"nominal_diameter": "1/4", "height_form": "thin"}),
    Example("AN316-6R", "kit hardware list", "bag 1206", {"nominal_diameter": "3/8", "height_form": "thin"}),
    *(
        Example(f"{basic}{size}", "NASM21042 published notes", "thread-diameter table", {"nominal_diameter": diameter})
        for basic in ("MS21042-", "MS21043-", "MS21044N")
        for size, diameter in {
            "02": ".086",
            "04": ".112",
            "06": ".138",
            "08": ".164",
            "3": ".190",
            "4": ".250",
            "5": ".3125",
            "6": ".375",
        }.items()
    ),
    Example(
        "MS21042L-4", "ATSB AO-2011-135", "safety issue SI-01", {"nominal_diameter": "1/4", "lubricant": "dry film"}
    ),
    Example("MS21045-4", "TM 1-1730-232-13P", "Table F-1", {"nominal_diameter": "1/4"}),
    Example("MS21045-5", "TM 1-1730-232-13P", "Table F-1", {"nominal_diameter": "5/16"}),
    Example(
        "MS35649-225B",
        "NASM35649",
        "example",
        {"nominal_diameter": ".0860", "thread": "2-56", "material_group": "brass", "finish": "black oxide"},
    ),
    # the sheet prints MS35469-63: digits transposed
    Example(
        "MS35649-63",
        "NASM35649",
        "example",
        {"nominal_diameter": ".1380", "thread": "6-32", "material_group": "steel", "finish": "phosphate"},
    ),
    Example(
        "NAS1780-4",
        "NAS1780",
        "example",
        {"thread": "1/4-28", "rivet_holes": "plain", "finish_group": "cadmium", "lubricant": "dry film"},
    ),
    Example("NAS1780-4K", "NAS1780", "example", {"rivet_holes": "dimpled", "lubricant": "dry film"}),
    Example(
        "NAS1780X4", "NAS1780", "example", {"rivet_holes": "plain", "finish_group": "cadmium", "lubricant": "none"}
    ),
    Example(
        "NAS1780X4K", "NAS1780", "example", {"rivet_holes": "dimpled", "finish_group": "cadmium", "lubricant": "none"}
    ),
    Example(
        "NAS1780C4",
        "NAS1780",
        "example",
        {"rivet_holes": "plain", "material_group": "stainless", "finish_group": "silver"},
    ),
    Example(
        "NAS1780C4K",
        "NAS1780",
        "example",
        {"rivet_holes": "dimpled", "material_group": "stainless", "finish_group": "silver"},
    ),
    Example("NAS1291-7", "TCCA CASA 2013-04", "issue 02", {"nominal_diameter": "7/16"}),
]
WASHERS_AND_PINS = [
    Example(
        "AN960-10",
        "NAS1149",
        "published pair",
        {"inside_diameter": ".203", "outside_diameter": ".438", "thickness": ".063", "material_group": "steel"},
    ),
    Example("AN960-10L", "NAS1149", "published pair", {"thickness": ".032"}),
    Example("AN960-8", "NAS1149", "published pair", {"thickness": ".032"}),
    Example("AN960-4L", "NAS1149", "published pair", {"thickness": ".016"}),
    Example("AN960-416", "NAS1149", "published pair", {"nominal_diameter": "1/4", "thickness": ".063"}),
    Example(
        "AN960C416L",
        "NAS1149",
        "family rule",
        {"nominal_diameter": "1/4", "thickness": ".032", "material_group": "stainless"},
    ),
    Example(
        "AN960PD416",
        "NAS1149",
        "published stock list",
        {"nominal_diameter": "1/4", "thickness": ".063", "material_group": "aluminium", "finish_group": "anodized"},
    ),
    Example("AN960-1216", "NAS1149", "family rule", {"nominal_diameter": "3/4", "thickness": ".090"}),
    Example(
        "NAS1149C1790R",
        "NAS1149",
        "family rule",
        {
            "nominal_diameter": "1 1/16",
            "thickness": ".090",
            "material_group": "stainless",
            "finish_group": "passivated",
        },
    ),
    Example(
        "NAS1149V0332H",
        "NAS1149",
        "published drawing analysis",
        {"nominal_size": "#10", "thickness": ".032", "material_group": "titanium"},
    ),
    Example("AN970-3", "AN970", "published packing list", {"nominal_size": "#10", "outside_diameter": "7/8"}),
    Example(
        "MS35338-44",
        "MS35338 (from-memory); ASME dimensions",
        "dash table",
        {"nominal_diameter": "1/4", "inside_diameter": ".252", "outside_diameter": ".487", "thickness": ".062"},
    ),
    Example(
        "MS35333-40",
        "MS35333 (from-memory); ASME dimensions",
        "dash table",
        {"nominal_diameter": "1/4", "inside_diameter": ".256", "outside_diameter": ".478"},
    ),
    Example(
        "MS24665-132",
        "MS24665 (from-memory)",
        "dash table",
        {"nominal_diameter": "1/16", "length": "1/2", "material_group": "steel"},
    ),
    Example(
        "MS24665-353",
        "MS24665",
        "published data page",
        {"nominal_diameter": "1/8", "length": "1", "material_group": "steel"},
    ),
    Example(
        "MS24665-302",
        "MS24665 (from-memory)",
        "dash table",
        {"nominal_diameter": "3/32", "length": "1", "material_group": "stainless"},
    ),
    Example("AN393-11", "MS20392", "rule", {"nominal_diameter": "3/16", "nominal_length": "11/32"}),
    Example("MS20995C32", "MS20995", "rule", {"material_group": "stainless", "wire_diameter": ".032"}),
    Example("MS20995CU20", "TM 9-254", "Table 6-2", {"material_group": "copper", "wire_diameter": ".020"}),
    Example("MS20002C6", "TM 1-1500-204-23-6", "2-4c(2)", {"nominal_diameter": "3/8", "countersunk_side": "yes"}),
    Example("MS20002-6", "TM 1-1500-204-23-6", "2-4c(2)", {"nominal_diameter": "3/8", "countersunk_side": "no"}),
]
SCREWS = [
    *(
        Example(number, "NAS5311", "EXAMPLES", meaning)
        for number, meaning in {
            "NAS5311E3-10": {
                "thread": "10-32",
                "material_group": "stainless",
                "finish_group": "passivated",
                "length": ".625",
            },
            "NAS5311V5A15": {
                "thread": "5/16-24",
                "material_group": "titanium",
                "finish_group": "aluminium coating",
                "length": ".9375",
            },
            "NAS5311V5-15": {
                "thread": "5/16-24",
                "material_group": "titanium",
                "finish_group": "plain",
                "length": ".9375",
            },
            "NAS5311E3P10": {"thread": "10-32", "finish_group": "cadmium", "length": ".625"},
            "NAS5311V06A19H": {
                "thread": "6-32",
                "material_group": "titanium",
                "length": "1.1875",
                "head_drilled": "yes",
            },
        }.items()
    ),
    *(
        Example(number, "NAS5315", "EXAMPLES", meaning)
        for number, meaning in {
            "NAS5315E3-10": {"thread": "10-32", "finish_group": "passivated", "grip_length": ".625"},
            "NAS5315V5-15": {"thread": "5/16-24", "material_group": "titanium", "grip_length": ".9375"},
            "NAS5315V5A15": {"thread": "5/16-24", "finish_group": "aluminium coating", "grip_length": ".9375"},
            "NAS5315E3P10": {"thread": "10-32", "finish_group": "cadmium", "grip_length": ".625"},
            "NAS5315V06A19D": {
                "thread": "6-32",
                "material_group": "titanium",
                "grip_length": "1.1875",
                "shank_drilled": "yes",
            },
        }.items()
    ),
    Example(
        "MS24693-S273",
        "MS24693",
        "cross-reference page",
        {"thread": "10-32", "head_angle": "100", "material_group": "steel", "length": "5/8"},
    ),
    Example("AN525-10R8", "AN525", "builder note", {"thread": "10-32", "length": "1/2"}),
    Example("AN525-832R8", "AN525", "stock list", {"thread": "8-32", "material_group": "steel"}),
    Example("AN525-10R12", "AN525", "pattern", {"thread": "10-32", "length": "3/4"}),
    Example("AN526C632R8", "AN526", "kit list", {"thread": "6-32", "material_group": "stainless", "length": "1/2"}),
    Example("AN526C440R8", "AN526", "stock list", {"thread": "4-40", "material_group": "stainless"}),
    Example("MS24693S10", "MS24693", "kit list", {"thread": "4-40", "head_angle": "100", "length": "1"}),
    Example(
        "MS24694C14", "MS24694", "kit list", {"nominal_size": "#8", "material_group": "stainless", "length": "1 1/16"}
    ),
    Example("MS24694-S19", "MS24694", "hardware list", {"thread": "8-32", "length": "1 3/8"}),
    Example(
        "MS24694-S50",
        "MS24694",
        "stock list",
        {"thread": "10-32", "material_group": "steel", "tensile_strength": "125000"},
    ),
    Example(
        "MS24694-C50",
        "MS24694",
        "stock list",
        {"thread": "10-32", "material_group": "stainless", "tensile_strength": "85000"},
    ),
    Example(
        "MS27039C0808",
        "MS27039",
        "stock list",
        {"thread": "8-32", "material_group": "stainless", "tensile_strength": "125000"},
    ),
    Example(
        "MS27039C1-08",
        "MS27039",
        "stock list",
        {"thread": "10-32", "material_group": "stainless", "tensile_strength": "125000"},
    ),
    Example(
        "NAS1351-3-8P",
        "NAS1351",
        "seller page",
        {"thread": "10-32", "drive": "hexagon socket", "tensile_strength": "160000"},
    ),
    Example("NAS1352-04-4P", "NAS1352", "hardware list", {"length": "1/4"}),
    Example(
        "AN501B-416-7",
        "FAA-H-8083-30 (from-memory)",
        "identification of screws",
        {"material_group": "brass", "nominal_diameter": "1/4", "length": "7/16"},
    ),
]
RIVETS = [
    Example("NAS1055-5-7", "NAVEDTRA 14018", "ch. 2", {"nominal_diameter": "5/32", "grip_length_max": "7/16"}),
    Example("NAS1054-8-8", "NAS1054", "example of part number", {"nominal_diameter": "1/4", "grip_length_max": "1/2"}),
    # AC 43.13-1B 4-57b: one thirty-second more diameter of 2117 for 5/32 of 2024
    Example("MS20470DD5-6", "AC 43.13-1B", "par 4-57b", {"nominal_diameter": "5/32", "alloy": "2024-T4"}),
    Example("MS20470AD6-6", "AC 43.13-1B", "par 4-57b", {"nominal_diameter": "3/16", "alloy": "2117-T4"}),
    # two skins .040: 1/8 rivet, 1/4 in long is -4
    Example(
        "MS20470AD4-4",
        "college structures notes",
        "rivet size and length",
        {"nominal_diameter": "1/8", "length": "1/4"},
    ),
]
EXAMPLES = [*BOLTS, *NUTS, *WASHERS_AND_PINS, *SCREWS, *RIVETS]
