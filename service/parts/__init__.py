"""The decoded part: its attributes with provenance, its pieces with their meaning, and a description in words."""
