"""Gripledger: what a piece of aircraft standard hardware is, what mates with it, what may replace it."""

__version__ = "0.1.0"
