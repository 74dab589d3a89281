"""Listings -> which of them are of one axle: the same one advertised again."""
