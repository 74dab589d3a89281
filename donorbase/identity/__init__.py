"""facts -> Identification. Imports facts, attributes, reference."""
