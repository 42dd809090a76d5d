"""Load rating of a girder: LRFR, load factor and allowable stress rating, posting.

``factors`` first (condition, system, live load), then ``formula`` (the rating factor itself and
the vehicles), ``lrfr`` and ``older`` (whole sheets), ``posting`` (from rating factor to tons).
"""
