"""What may stand for what: relations between families, worked out number by number, with every difference shown."""
