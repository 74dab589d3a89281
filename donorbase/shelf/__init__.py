"""What happened to pulled parts -> what stands on the shelf, to whom it is promised, whether it is worn, what it fits.

A pure room: events, the catalogue and today's year come in as arguments.
"""
