"""Live-load distribution of any girder of a deck-on-girders bridge, from its cross-section alone.

`deck` states the cross-section, `interior` and `exterior` write the factors with every rule that
applies, `lever` proves the lever rule by placed wheels, `skew`, `permit` and `wheel_lines` write
what an option or another code asks for.
"""
