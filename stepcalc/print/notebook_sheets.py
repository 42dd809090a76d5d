"""The sheets of an executed notebook, with their formulas, from what its outputs hold.

Nothing is run: the records of each output are put together and evaluated as the JSON of a sheet is.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from stepcalc.errors import SheetFileError
from stepcalc.print.notebook import notebook_document, read_notebook
from stepcalc.print.notebook_document import MIME
from stepcalc.print.snapshot import text_of_file
from stepcalc.sheet.codec import FORMAT
from stepcalc.sheet.excerpts import assembled
from stepcalc.sheet.sheet import Sheet

__all__ = ["bundles_of", "notebook_sheets", "sheets_of_file"]


def sheets_of_file(path: str | Path) -> list[Sheet]:
    """Return the sheets of a ``.json`` file of ``to_json`` or of an executed ``.ipynb``.

    Raises
    ------
    SheetFileError
        If the file holds no sheet, or is damaged.
    PrintError, StaleError
        If a notebook was not run from top to bottom.
    """
    source = Path(path)
    if source.suffix.lower() == ".ipynb":
        notebook = read_notebook(source)
        notebook_document(notebook, source)  # refuses what was not run from top to bottom
        return notebook_sheets(notebook, source)
    text = text_of_file(source)
    if f'"{FORMAT}"' not in text[:1000]:
        raise SheetFileError(
            f"{source} holds no sheet; want what to_json() of a sheet wrote, or a notebook"
        )
    return [Sheet.from_json(text)]


def notebook_sheets(notebook: Mapping[str, Any], source: Path) -> list[Sheet]:
    """Return the sheets of a notebook that :func:`~stepcalc.print.notebook.read_notebook` read.

    Raises
    ------
    SheetFileError
        If it shows no sheet, or an output holds none of the formulas that it shows.
    """
    found: dict[str, tuple[Mapping[str, Any], list[Any]]] = {}
    for number, bundle in bundles_of(notebook):
        about = bundle.get("sheet")
        if not isinstance(about, Mapping) or not bundle.get("blocks"):
            continue
        if "records" not in bundle:
            if bundle.get("marks"):
                raise SheetFileError(
                    f"cell {number} of {source.name} shows steps without the formulas behind them: "
                    "an earlier stepcalc ran it; run the notebook again"
                )
            continue  # trial values of controls
        key = str(about.get("id") or about.get("title"))
        found.setdefault(key, (about, []))[1].append(bundle["records"])
    if not found:
        raise SheetFileError(f"{source.name} shows no calculation sheet")
    try:
        return [
            assembled(about["title"], about["carry"], about["digits"], texts)
            for about, texts in found.values()
        ]
    except KeyError as error:
        raise SheetFileError(f"a sheet of {source.name} does not say its {error}") from error


def bundles_of(notebook: Mapping[str, Any]) -> Iterator[tuple[int, Mapping[str, Any]]]:
    """Yield the number of the cell and the stored data of every output of ours."""
    for number, cell in enumerate(notebook["cells"], 1):
        for output in cell.get("outputs", ()) if cell["cell_type"] == "code" else ():
            data = output.get("data")
            if isinstance(data, Mapping) and isinstance(data.get(MIME), Mapping):
                yield number, data[MIME]
