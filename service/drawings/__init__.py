"""True-scale drawings of parts and joints as SVG. Every coordinate is a millimetre as a Fraction, so the same part gives the same bytes."""
