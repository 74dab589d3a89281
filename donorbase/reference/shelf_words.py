"""The words in which the shelf is kept: sides, states, events. Store and shelf both speak them."""

SIDES = ("left", "right")
"""Sides of somebody in the driver's seat."""
FREE = "shelf"
"""The state of a part that nothing holds."""
HOLDS = ("reserved", "lent", "used", "sold", "scrapped", "split", "assembled", "removed")
"""What can hold a part. One thing at a time holds it: what is held is free for nothing else."""
STATES = (FREE, *HOLDS)
EVENTS = ("added", "moved", "note", "photo", "changed", "measured", "held", "released", "undo")
"""What can happen to a part."""
JUDGED = ("within", "at limit", "out", "not known")
"""How a measured value stands to its limit."""
