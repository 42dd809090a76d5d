"""The schema of a document: what it accepts, and in which words it refuses the rest."""

from __future__ import annotations

import base64
import copy
from typing import Any

import pytest

from stepcalc.errors import SheetFileError
from stepcalc.render import blocks as b
from stepcalc.render.document import read_block, read_document
from tests.unit.print_sample import qty, sample_document, step, sym

STEP = step("1-1", "M_u", sym("w"), sym("w"), qty("8", "kip*ft"))


def one_block(**changes: Any) -> dict[str, Any]:
    return {"v": 1, "sheets": [{"title": "Loads", "blocks": [STEP | changes]}]}


def test_the_sample_is_read_into_records() -> None:
    document = read_document(sample_document())
    assert document.sheets[0].title == "Permanent loads"
    kinds = {type(block) for sheet in document.sheets for block in sheet.blocks}
    assert {b.Heading, b.Given, b.Step, b.Computed, b.Lookup, b.Check, b.Conclusion} <= kinds
    step_read = next(x for x in document.sheets[0].blocks if isinstance(x, b.Step))
    assert (step_read.name, step_read.ref, step_read.boxed) == ("w_deck", "tributary width", False)


def test_reading_leaves_the_data_as_they_were() -> None:
    data = sample_document()
    before = copy.deepcopy(data)
    read_document(data)
    assert data == before


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ([], "the document is []; want a mapping"),
        ({"v": 2}, "version 2"),
        ({"sheet": []}, "unknown field 'sheet'; nearest name: 'sheets'"),
        ({"profile": "book"}, "want 'package' or 'homework'"),
        ({"sheets": {}}, "want a list"),
        ({"sheets": [{"blocks": []}]}, "lacks 'title'"),
        ({"title": {"project": 7}}, "'project' in the title block is 7; want text"),
        ({"sheets": [{"title": "Loads", "blocks": [{"kind": "stepp"}]}]}, "has the kind 'stepp'"),
        (one_block(reslt=qty("8", "ft")), "(step 'M_u') has the unknown field 'reslt'"),
        (one_block(result=["qty", "8"]), "layout kind 'qty' has 1 parts; 2 belong to it"),
        (one_block(stale=1), "want true or false"),
        (one_block(description="x" * 20_001), "has 20001 characters; at most 20000"),
        (one_block(result=None), "lacks 'result'"),
        (one_block(warnings="careful"), "want a list"),
    ],
)
def test_a_fault_is_named_with_its_place(data: object, words: str) -> None:
    with pytest.raises(SheetFileError) as caught:
        read_document(data)
    message = str(caught.value)
    assert words in message
    assert "\n" not in message
    assert not message.endswith(".")


def test_a_formula_nested_too_deep_is_refused() -> None:
    tree: list[Any] = sym("a")
    for _ in range(500):
        tree = ["sqrt", tree]
    with pytest.raises(SheetFileError, match="nested"):
        read_document(one_block(formula=tree))


def test_proofs_do_not_nest_without_end() -> None:
    block: dict[str, Any] = {"kind": "note", "text": "end"}
    for _ in range(9):
        block = STEP | {"kind": "computed", "proof": [block]}
    with pytest.raises(SheetFileError, match="nested deeper than 6 proofs"):
        read_block(block)


def test_too_many_blocks_are_refused() -> None:
    note = {"kind": "note", "text": "n"}
    sheets = [{"title": str(k), "blocks": [note] * 20_000} for k in range(3)]
    with pytest.raises(SheetFileError, match="60000 blocks; at most 50000"):
        read_document({"sheets": sheets})


@pytest.mark.parametrize(
    "block",
    [
        {"kind": "figure", "caption": "nothing to show"},
        {"kind": "figure", "png": "aGVsbG8="},
        {"kind": "figure", "png": "not base64 at all!"},
        {"kind": "figure", "svg": "<html></html>"},
        {"kind": "figure", "svg": '<!DOCTYPE x [<!ENTITY a "b">]><svg>&a;</svg>'},
        {"kind": "figure", "data": {"kind": 7}},
        {"kind": "table", "header": ["a", "b"], "rows": [["1"]]},
        {"kind": "table", "header": ["a"], "rows": [["1"]], "align": "x"},
        {"kind": "heading", "text": "h", "level": 0},
        {"kind": "check", "name": "c", "formula": ["sym", "a"], "verdict": "fine"},
    ],
)
def test_unfit_blocks_are_refused(block: dict[str, Any]) -> None:
    with pytest.raises(SheetFileError):
        read_block(block)


def test_a_picture_is_decoded() -> None:
    png = b"\x89PNG\r\n\x1a\n" + b"rest"
    block = read_block({"kind": "image", "png": base64.b64encode(png).decode(), "alt": "beam"})
    assert block == b.Image(png, "beam")


def test_half_a_surrogate_pair_does_not_survive() -> None:
    block = read_block({"kind": "note", "text": "a\ud800b"})
    assert isinstance(block, b.Note)
    block.text.encode()
    assert "\ufffd" in block.text
