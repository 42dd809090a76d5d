"""General I-sections: welded or rolled, bare or with a slab, and their flexural resistance.

Read in the order of the work: ``plates`` (what the section is made of), ``slab`` (effective width,
modular ratio), ``geometry`` (areas and heights), ``elastic`` (steel, 3n, n, cracked), ``stages``
(stresses by stage), ``plastic`` and ``yielding`` (the two moments), ``web`` (R_h, R_b, bend-
buckling), ``positive`` (6.10.7), ``flange_buckling`` and ``negative`` (6.10.8), ``moment_form``
(Appendix A6), ``gradient`` (C_b), ``lateral_bending``, ``service``, and the older codes.
"""
