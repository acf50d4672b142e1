"""The frozen, indexed, in-memory view of the tables that everything else reads."""
