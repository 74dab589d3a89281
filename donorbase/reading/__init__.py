"""text -> Reading. Imports facts, attributes, reference."""
