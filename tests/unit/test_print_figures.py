"""Figures: drawn from data, the same bytes every time, with words for those who cannot see."""

from __future__ import annotations

import io
import itertools
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from stepcalc.bridge.bridge_file import read_bridge_file
from stepcalc.bridge.whole.any_girder import calculation_of
from stepcalc.errors import PrintError, SheetFileError
from stepcalc.render import figures
from stepcalc.render.figure_canvas import rows_without_overlap, shortened
from stepcalc.render.figures import draw_figure, figure_alt
from stepcalc.render.package_document import package_document

SPAN = 62.0
FREE_BODY: dict[str, Any] = {
    "kind": "free_body", "span": SPAN, "length_unit": "ft", "supports": [0, 62],
    "loads": [{"x": 14.67, "label": "8 kip", "size": 8},
              {"x": 28.67, "label": "32 kip", "size": 32}],
    "uniform": [{"start": 0, "end": 62, "label": "0.64 kip/ft"}],
    "reactions": [{"x": 0, "label": "R_A = 33.29 kip"}],
    "dimensions": [{"start": 14.67, "end": 28.67, "label": "14 ft"}],
    "marks": [{"x": 31, "label": "midspan"}],
}  # fmt: skip
CURVES: dict[str, Any] = {
    "kind": "curves", "x": [0, 31, 62], "x_label": "x (ft)", "y_label": "moment (kip-ft)",
    "series": [{"label": "DC1", "y": [0, 462.4, 0]}, {"label": "LL", "y": [-3.5, 811.6, 0]}],
    "marks": [{"x": 31, "y": 811.6, "label": "811.6"}], "invert_y": True,
}  # fmt: skip
INFLUENCE: dict[str, Any] = {
    "kind": "influence", "x": [0, 28.67, 62], "y": [0, 15.41, 0], "x_label": "x (ft)",
    "loads": [{"x": 28.67, "y": 15.41, "label": "32 kip"}], "y_label": "ordinate (ft)",
}  # fmt: skip
SECTION: dict[str, Any] = {
    "kind": "bridge_section", "girders": [3.0, 10.75, 18.5], "deck": [0, 21.5], "thickness": 0.667,
    "barrier_width": 1.5, "depth": 3.0, "flange": 1.0, "labels": {"spacing": "7'-9\"", "x": "y"},
}  # fmt: skip
FIGURES = {"free_body": FREE_BODY, "curves": CURVES, "influence": INFLUENCE, "section": SECTION}


@pytest.mark.parametrize(("name", "form"), list(itertools.product(FIGURES, ["svg", "png", "pdf"])))
def test_the_same_bytes_twice(name: str, form: str) -> None:
    first = draw_figure(FIGURES[name], form)
    figures._drawn.cache_clear()
    assert draw_figure(FIGURES[name], form) == first
    assert {"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}[form] in first[:400]


@pytest.mark.parametrize("name", FIGURES)
def test_it_is_drawn_without_colour(name: str) -> None:
    picture = np.asarray(Image.open(io.BytesIO(draw_figure(FIGURES[name], "png"))).convert("RGB"))
    spread = picture.max(axis=2).astype(int) - picture.min(axis=2)
    assert spread.max() <= 2
    assert (picture < 100).any()


@pytest.mark.parametrize("name", FIGURES)
def test_labels_are_outlines_so_no_font_is_needed(name: str) -> None:
    drawing = draw_figure(FIGURES[name], "svg").decode()
    assert "<text" not in drawing
    assert "font-family" not in drawing
    assert "http" not in drawing.replace("http://www.w3.org", "").replace(
        "http://purl.org", ""
    ).replace("http://creativecommons.org", "")


def test_the_words_come_from_the_data() -> None:
    assert "32 kip at 28.67 ft" in figure_alt(FREE_BODY)
    assert "R_A = 33.29 kip at 0 ft" in figure_alt(FREE_BODY)
    assert "LL: largest 811.6 at 31, smallest -3.5 at 0" in figure_alt(CURVES)
    assert "Extreme ordinate 15.41 at 28.67" in figure_alt(INFLUENCE)
    assert "21.5 ft wide on 3 girders at 3, 10.75, 18.5 ft" in figure_alt(SECTION)


def test_a_changed_number_changes_figure_and_words() -> None:
    moved = FREE_BODY | {"loads": [{"x": 17.0, "label": "8 kip", "size": 8}]}
    assert draw_figure(moved) != draw_figure(FREE_BODY)
    assert "8 kip at 17 ft" in figure_alt(moved)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"kind": "pie"}, "the kind 'pie'; known kinds: free_body"),
        (FREE_BODY | {"span": 0}, "'span' of a free_body figure is 0; want a number above 0"),
        (FREE_BODY | {"span": float("nan")}, "want a finite number"),
        (FREE_BODY | {"load": []}, "unknown fields 'load'"),
        (FREE_BODY | {"loads": [{"label": "8 kip"}]}, "'x' of a free_body loads figure"),
        (CURVES | {"x": [0, 1]}, "3 ordinates for 2 abscissas"),
        (CURVES | {"series": []}, "no series"),
        (INFLUENCE | {"y": [0, 1]}, "2 ordinates for 3 abscissas"),
        (SECTION | {"deck": [5, 5]}, "runs from 5 to 5"),
        (SECTION | {"labels": ["a"]}, "want a mapping"),
    ],
)
def test_a_fault_in_the_data_is_named(data: dict[str, Any], words: str) -> None:
    for use in (draw_figure, figure_alt):
        with pytest.raises(SheetFileError) as caught:
            use(data)
        assert words in str(caught.value)


def test_an_unknown_form_is_refused() -> None:
    with pytest.raises(PrintError, match="no figure is drawn as 'gif'"):
        draw_figure(CURVES, "gif")


def test_hostile_labels_draw() -> None:
    for text in ("$\\frac{x$", "中\u202e\x00", "W" * 500, "", "<svg>"):
        data = FREE_BODY | {"loads": [{"x": 3, "label": text, "size": 1}], "length_unit": text}
        draw_figure(data)
        figure_alt(data)


def test_labels_that_would_touch_stand_in_rows() -> None:
    assert rows_without_overlap([(0, 2), (1, 3), (2, 4), (2.5, 5)]) == [0, 1, 0, 2]
    assert rows_without_overlap([]) == []


def test_signs_of_labels_are_minus_signs_and_hyphens_stay() -> None:
    assert shortened("-7,883 kip-ft at W36-150") == "−7,883 kip-ft at W36-150"
    assert shortened("62 ft-6 in, 5-1/2") == "62 ft-6 in, 5-1/2"


@pytest.mark.slow
def test_the_extremes_of_an_envelope_are_labelled_as_the_tables_print_them() -> None:
    """Every marked value of the envelopes of two spans stands in a table or step of its sheet."""
    path = Path(__file__).parents[2] / "notebooks" / "sheets" / "cedar_fork.toml"
    document = package_document(calculation_of(read_bridge_file(path)).package())
    found = 0
    for sheet in document["sheets"]:
        printed = json.dumps([x for x in sheet["blocks"] if x["kind"] != "figure"])
        for figure in (x for x in sheet["blocks"] if x["kind"] == "figure"):
            if figure["data"]["kind"] == "curves":
                for mark in figure["data"]["marks"]:
                    assert f'"{mark["label"].split(" ")[0]}"' in printed, mark
                    found += 1
    assert found >= 4
