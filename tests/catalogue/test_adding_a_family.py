"""The worked example of DEVELOPERS.md: a family added as rows only is read, answered and refused like any other."""

from __future__ import annotations

import shutil
from pathlib import Path

from service.audit import audit
from service.catalogue.catalogue import load
from service.designation.reader import Reader
from service.designation.reading import Designation, Refusal
from service.parts.part import Part
from service.settings import Settings

ROWS = {
    "sources.csv": "xy77,Example sheet,-,A,standard sheet,primary-text,invented for a test",
    "washers/families.csv": 'washers.xy77,XY77,washer,flat washer,"flat washer; for {nominal_size}; {thickness} thick; {material}",'
    "active,,XY77-3 XY77C4,xy77,title,published,",
    "washers/basic_numbers.csv": "washers.xy77.basic,XY77,XY77,flat washer,xy77,title,published,",
    "washers/slots.csv": "washers.xy77.slot.1,XY77,1,material,plain,code,xy77-material,,,material letter,xy77,code,published,\n"
    "washers.xy77.slot.2,XY77,2,size,dash-between-digits,code,xy77-size,,,bolt size,xy77,code,published,",
    "washers/codes.csv": "washers.xy77.code.none,xy77-material,(none),carbon steel,,xy77,code,published,\n"
    "washers.xy77.code.c,xy77-material,C,stainless steel,,xy77,code,published,\n"
    "washers.xy77.code.3,xy77-size,3,No. 10,,xy77,code,published,\n"
    "washers.xy77.code.4,xy77-size,4,1/4 in,,xy77,code,published,",
    "washers/facts.csv": "washers.xy77.3.thickness,XY77,size=3,thickness,.063,[in_i],,,,,,xy77,table I,published,\n"
    "washers.xy77.c.material,xy77-material,material=C,material,stainless steel,,,,,,,xy77,code,published,",
    "washers/gaps.csv": "washers.xy77.4.thickness,XY77,size=4,thickness,the sheet leaves it out",
}


def with_example(tmp_path: Path) -> Path:
    """The tables with the example's rows."""
    folder = tmp_path / "tables"
    shutil.copytree(Settings().tables, folder)
    for name, rows in ROWS.items():
        with (folder / name).open("a", encoding="utf-8") as file:
            file.write(rows + "\n")
    return folder


def test_example_passes_the_check(tmp_path: Path) -> None:
    assert [str(f) for f in audit(with_example(tmp_path)) if "xy77" in str(f).lower()] == []


def test_example_reads_and_answers(tmp_path: Path) -> None:
    reader = Reader(load(with_example(tmp_path)))
    found = reader.read("xy77 c4")
    assert isinstance(found, Designation)
    part = Part(found)
    assert part.number == "XY77C4"
    assert part.description == "flat washer; stainless steel"
    thickness = part.value("thickness")
    assert thickness is not None
    assert thickness.exact is None
    assert thickness.reason == "the sheet leaves it out"


def test_example_refuses_what_it_does_not_make(tmp_path: Path) -> None:
    refused = Reader(load(with_example(tmp_path))).read("XY77-5")
    assert isinstance(refused, Refusal)
    assert refused.piece is not None
    assert refused.piece.slot == "size"
