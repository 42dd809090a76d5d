"""Beams and moving loads: floats and arrays in, floats and arrays out, in any coherent unit.

Nothing here knows a unit or a sheet. Lengths, forces and rigidities that go in together must be in
one coherent system (ft and kip, inch and kip, m and kN); what comes out is in the same system.

Simple spans, over arrays of spans: `influence`, `uniform`, `train_moment`, `train_shear`,
`train_deflection`. Beams of any spans, one at a time: `beam` says what a beam is,
`beam_response` what loads that stand still do, `influence_lines` gives exact piecewise cubics,
`live_load_envelope` and `envelope_peak` the extremes of `load_case`, `load_proof` how a value
comes about, and `concurrent` what else acts there. `vehicles` and `vehicle_file` hold the vehicles.
"""
