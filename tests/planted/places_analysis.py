"""Errors planted in beams of any spans: stiffness, influence lines, searches, peaks."""

from __future__ import annotations

from tests.planted.place import places

_UNIT = "tests/unit/"
_LINES = f"{_UNIT}test_analysis_beam_lines.py"
_TRAINS = f"{_UNIT}test_analysis_beam_trains.py"

BEAMS = [
    *places(
        "analysis/beam_element.py",
        _LINES,
        ("[6, 4, -6, 2]", "[6, 4, -6, 1]"),
    ),
    *places(
        "analysis/batch_lines.py",
        f"{_LINES} {_UNIT}test_analysis_beam_second_methods.py",
        ("coefficients[..., 0] -= left_of", "coefficients[..., 0] += left_of"),
        ("3 * b * b * a * length", "2 * b * b * a * length"),
    ),
    *places(
        "analysis/beam_batch.py",
        f"{_UNIT}test_continuous_at_once.py",
        ("joints[:, span] + mark * spans[:, span]", "joints[:, span] + mark * spans[:, 0]"),
    ),
    *places(
        "analysis/line_signs.py",
        f"{_UNIT}test_analysis_beam_concurrent.py {_TRAINS}",
        (
            "total += t * (a + t * (b / 2 + t * (c / 3 + t * d / 4)))",
            "total += t * (a + t * (b / 2 + t * (c / 2 + t * d / 4)))",
        ),
        ("h * (c[..., 2] / 3 + h * c[..., 3] / 4)", "h * (c[..., 2] / 2 + h * c[..., 3] / 4)"),
    ),
    *places(
        "analysis/contraflexure.py",
        f"{_UNIT}test_analysis_beam_response.py",
        ("b = L + 2 * (right - left) / L", "b = L + (right - left) / L"),
    ),
    *places(
        "analysis/effect_rows.py",
        _TRAINS,
        ('(rows.effects == "reaction") & (rows.signs > 0)', '(rows.effects == "none")'),
    ),
    *places(
        "analysis/case_effect.py",
        _TRAINS,
        (
            "forces[:, 1] = np.where(hogging, case.riding.moment_force, 0.0)",
            "forces[:, 1] = np.where(hogging, 0.0, 0.0)",
        ),
    ),
    *places(
        "analysis/train_search.py",
        _TRAINS,
        ("-(c2 + root) / (3 * c3)", "-(c2 + root) / (2 * c3)"),
    ),
    *places(
        "analysis/train_placement.py",
        _TRAINS,
        ("reach = halves.front[1][-1]", "reach = 0.0"),
    ),
    *places(
        "analysis/peak_search.py",
        f"{_UNIT}test_analysis_peak_search.py",
        ("K * t * (h - t) / 2", "K * t * (h - t) / 200"),
        ("one = 2 / L", "one = 0.2 / L"),
    ),
    *places(
        "analysis/concurrent.py",
        f"{_UNIT}test_analysis_beam_concurrent.py",
        ("np.where(on, -face, sides)", "np.where(on, face, sides)"),
    ),
    *places(
        "analysis/line_signs.py",
        f"{_UNIT}test_continuous_at_once.py",
        ("t * t * (a / 2 + t * (b / 3", "t * t * (a / 2 + t * (b / 2"),
    ),
    *places(
        "bridge/continuous/peaks_at_once.py",
        f"{_UNIT}test_continuous_at_once.py",
        ("t * (L - t) / 2", "t * (L - t) / 3"),
    ),
]
