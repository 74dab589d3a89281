"""Facts -> Identification: what axle it is, what is believed of it, what to find out next.

In: facts (from a listing or from measurements) and the catalogue. Out: ``identify`` a probability for each
variant and for none of these; ``belief`` the chances of one attribute's true value; ``questions`` the next best
measurement; ``conflicts`` what cannot be together; ``observations`` raw measurements as facts; ``axles`` the
axles in one thing on offer. Imports facts, attributes, errors, reference, engineering.
"""
