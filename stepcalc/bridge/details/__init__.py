"""Details of a steel girder: panels, stiffeners, fatigue, studs, camber, the pour, proportions.

Every procedure takes operands and writes steps; none of them needs a section record.  Read
``editions`` first: what an edition changes is chosen there, once, so that factors and limits of two
editions cannot be mixed.
"""
