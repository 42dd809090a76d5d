"""Beams and moving loads: floats and arrays in, floats and arrays out, in any coherent unit.

Nothing here knows a unit or a sheet. Lengths, forces and rigidities that go in together must be in
one coherent system (ft and kip, inch and kip, m and kN); what comes out is in the same system.
"""
