"""Part numbers: spelling, grammar, reading them, writing them, and explaining why one cannot be read."""
