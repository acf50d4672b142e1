"""Hypothesis strategies of the joint arithmetic: exact inches as tables print them, spans with tolerance, threads, stacks."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from service.joints.formulas.stack import Shank, Span, Stack, toleranced
from service.joints.formulas.threads import Thread

#: the coarse and fine threads of common hardware
THREADS = [
    Thread(Fraction(size), tpi, series)
    for size, tpi, series in (
        ("0.112", 40, "UNC"), ("0.138", 32, "UNC"), ("0.164", 36, "UNF"), ("0.190", 32, "UNF"), ("0.190", 24, "UNC"), ("1/4", 28, "UNF"),
        ("1/4", 20, "UNC"), ("5/16", 24, "UNF"), ("3/8", 24, "UNF"), ("7/16", 20, "UNF"), ("1/2", 20, "UNF"), ("5/8", 18, "UNF"),
        ("3/4", 16, "UNF"), ("7/8", 14, "UNF"), ("1", 14, "UNS"), ("1", 8, "UNC"), ("5/4", 12, "UNF"),
    )
]  # fmt: skip
threads = st.sampled_from(THREADS)


def inches(low: str, high: str) -> st.SearchStrategy[Fraction]:
    """Thousandths of an inch between two decimals."""
    scale = 1000
    return st.integers(int(Fraction(low) * scale), int(Fraction(high) * scale)).map(lambda n: Fraction(n, scale))


def positive(most: int = 1000) -> st.SearchStrategy[Fraction]:
    """A value above zero in steps of a thousandth."""
    return st.integers(1, most * 1000).map(lambda n: Fraction(n, 1000))


@st.composite
def spans(draw: st.DrawFn, low: str = "0", high: str = "1") -> Span:
    least = draw(inches(low, high))
    return Span(least, least + draw(inches("0", "0.02")))


@st.composite
def stacks(draw: st.DrawFn) -> Stack:
    plates = tuple(draw(st.lists(spans("0.02", "0.5"), min_size=1, max_size=4)))
    washers = st.lists(spans("0.03", "0.07"), max_size=2).map(tuple)
    return Stack(plates, draw(washers), draw(washers))


@st.composite
def bolt_runs(draw: st.DrawFn) -> tuple[Shank, ...]:
    """The bolts of one diameter: grip and length step together, by an eighth or a sixteenth."""
    pitch = draw(threads).pitch
    step = Fraction(1, draw(st.sampled_from([8, 16])))
    thread_length, tolerance = draw(inches("0.35", "0.75")), draw(inches("0", "0.02"))
    first = draw(inches("0.05", "0.2"))
    return tuple(
        Shank(
            toleranced(first + n * step, tolerance, tolerance),
            toleranced(first + n * step + thread_length, tolerance, tolerance),
            pitch,
        )
        for n in range(60)
    )
