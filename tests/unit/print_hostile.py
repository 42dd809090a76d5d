"""Texts that try to break a printed form, and a document that holds one in every place."""

from __future__ import annotations

from typing import Any

HOSTILE = {
    "tex": r"\input{/etc/hostname} \def\x{\x}\x $ % # & _ ^ ~ { } \\ \end{document} ^^5c",
    "html": "<script>alert(1)</script><img src=x onerror=alert(1)> </style> --> &lt; \"'",
    "typst": '#read("/etc/hostname") ] } ) #import "@preview/x:1.0.0" */ // $ `raw` <l> @r \\',
    "jinja": "{{ 7*7 }} {% raw %} ((* if *)) ((( 7*7 ))) {# c #} ((= c =)) {% endraw %}",
    "css": "a\"; } @import 'x'; body { display: none } /* \\A",
    "markdown": "# h\n\n* a\n  > q\n\n| a | b |\n|--|--|\n| $x$ | <b>y</b> |\n\n"
                "```\n${c}\n```\n[l](javascript:1)",
    "rtl": "שלום עולם \u202e reversed \u2067 مرحبا",
    "cjk": "漢字かな 한국어",
    "emoji": "🚧 work 👷🏽‍♀️ ✅",
    "control": "a\x00b\x07c\x1b[31m\ud800d\u2028e\tf\r\ng",
    "combining": "Z̸͑̀a̷l̶g̶o é Å",
    "long word": "W" * 2000,
    "long text": "quite a long title " * 105,
    "empty": " ",
}  # fmt: skip


def hostile_document(text: str) -> dict[str, Any]:
    """Put one text in every place where a user's text may stand."""
    said: list[Any] = ["text", text]
    named = {"name": text, "id": text[:40], "description": text, "warnings": [text]}
    step = {
        "kind": "step", **named, "symbol": ["sym", text[:80]], "ref": text, "branch": text[:80],
        "formula": ["add", [["", ["sym", text[:60]]], ["+", ["qty", "8", text[:30]]]]],
        "substitution": ["mul", [["group", said], ["call", text[:20], [said]]]],
        "result": ["qty", "8", text[:30]], "condition": ["rel", said, [["≤", ["num", "8"]]]],
        "valid": [{"condition": said, "ok": False}], "origin": [text], "boxed": True,
        "undefined": text,
    }  # fmt: skip
    figure = {
        "kind": "free_body", "span": 10.0, "length_unit": text[:20], "supports": [0, 10],
        "loads": [{"x": 4.0, "label": text, "size": 2}],
    }  # fmt: skip
    blocks: list[dict[str, Any]] = [
        {"kind": "heading", "level": 1, "number": text[:10], "text": text},
        {"kind": "note", "text": text},
        {"kind": "markdown", "text": text},
        {"kind": "code", "text": text},
        {"kind": "output", "text": text},
        {"kind": "given", **named, "symbol": ["sym", text[:80]], "value": said, "source": text,
         "assumed": text, "choices": text},
        step,
        step | {"kind": "computed", "method": text, "proof": [{"kind": "note", "text": text}]},
        {"kind": "lookup", **named, "symbol": said, "result": said, "table": text, "row": text,
         "column": text, "ref": text, "header": [text[:30]], "neighbours": [[text[:30]]]},
        {"kind": "check", "name": text, "formula": said, "substitution": said, "ratio": text[:12],
         "verdict": "N.G.", "location": text, "ref": text, "undefined": text},
        {"kind": "table", "header": [text, "b"], "rows": [[text, said], ["1", "2"]],
         "caption": text},
        {"kind": "figure", "data": figure, "caption": text, "alt": text},
        {"kind": "conclusion", "verdict": text, "governing": text, "scope_checked": [text],
         "scope_not_checked": [text], "recommendation": [text],
         "summary": [{"name": text, "verdict": "N.G.", "location": text, "demand": text[:40],
                      "capacity": said, "ratio": text[:12], "ref": text, "governs": True}]},
    ]  # fmt: skip
    fields = ("project", "subject", "prepared_by", "revision", text[:30] or "x")
    return {
        "v": 1, "title": dict.fromkeys(fields, text), "notices": [text],
        "sheets": [{"title": text, "blocks": blocks}],
    }  # fmt: skip
