"""Lists of files: digests as others compute them, and every change found."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from stepcalc import cli
from stepcalc.errors import PrintError, SheetFileError
from stepcalc.print.manifest import list_files, read_manifest
from tests.unit.print_pages import page_texts


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "package"
    (place / "notes").mkdir(parents=True)
    (place / "girder.txt").write_bytes(b"abc")
    (place / "notes" / "empty.txt").write_bytes(b"")
    return place


def test_digests_are_those_of_the_standard(folder: Path) -> None:
    # FIPS 180-4, SHA-256 of "abc", and of nothing (from memory; sha256sum below agrees)
    made = list_files([folder], descriptions={"girder.txt": "the calculation"})
    assert [(file.path, file.digest, file.size) for file in made.files] == [
        ("girder.txt", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", 3),
        ("notes/empty.txt", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", 0),
    ]
    assert made.files[0].description == "the calculation"
    sha1 = list_files([folder / "girder.txt"], algorithm="sha1").files[0]
    assert sha1.digest == "a9993e364706816aba3e25717850c26c9cd0d89d"


def test_another_program_computes_the_same(folder: Path) -> None:
    try:
        done = subprocess.run(
            ["sha256sum", "girder.txt"], capture_output=True, text=True, check=True, cwd=folder
        )
    except FileNotFoundError:
        pytest.skip("no sha256sum on this machine")
    assert done.stdout.split()[0] == list_files([folder / "girder.txt"]).files[0].digest


def test_a_changed_a_missing_and_an_extra_file_are_found(folder: Path) -> None:
    made = list_files([folder])
    assert made.faults(folder, whole_folder=True) == []
    (folder / "girder.txt").write_bytes(b"abd")
    (folder / "notes" / "empty.txt").unlink()
    (folder / "more.txt").write_bytes(b"x")
    assert made.faults(folder, whole_folder=True) == [
        "girder.txt was changed after it was listed",
        "notes/empty.txt is missing",
        "more.txt is not listed",
    ]


def test_a_list_is_read_as_it_was_written(folder: Path, tmp_path: Path) -> None:
    made = list_files([folder])
    assert read_manifest(made.write(tmp_path / "list.json")) == made
    assert made.to_json() == list_files([folder]).to_json()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "holds no JSON"),
        ("[]", "is no list of files"),
        ('{"schema": "stepcalc manifest 1", "algorithm": "sha256"}', "is damaged"),
        ('{"schema": "stepcalc manifest 1", "algorithm": "md5", "files": []}', "'md5'"),
        ('{"schema": "stepcalc manifest 1", "algorithm": "sha256", "files": [{"path": "../x", '
         '"digest": "0", "size": 1}]}', "leaves the folder"),
    ],
)  # fmt: skip
def test_a_damaged_list_is_refused(text: str, words: str, tmp_path: Path) -> None:
    (tmp_path / "list.json").write_text(text)
    with pytest.raises(SheetFileError, match=words):
        read_manifest(tmp_path / "list.json")


def test_what_cannot_be_listed_is_said(folder: Path) -> None:
    with pytest.raises(PrintError, match=r"none.txt is not there"):
        list_files([folder / "none.txt"])
    with pytest.raises(PrintError, match="algorithm is 'md5'; want one of sha256"):
        list_files([folder], algorithm="md5")
    with pytest.raises(PrintError, match="does not lie below the folder"):
        list_files([folder / "girder.txt"], folder=folder / "notes")
    with pytest.raises(PrintError, match="no file to list"):
        list_files([])


def test_the_printed_list_has_room_for_a_seal_and_draws_none(folder: Path, tmp_path: Path) -> None:
    made = list_files([folder], descriptions={"girder.txt": "the calculation"})
    text = page_texts(made.print(tmp_path / "list.pdf").read_bytes())[0]
    for words in ("girder.txt", "the calculation", "SHA-256", "Seal and signature", "Licence no."):
        assert words in text
    assert made.files[0].digest in text.replace(" ", "")


def test_the_verb_lists_and_checks(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = folder / "list.json"
    files = [str(folder / "girder.txt"), str(folder / "notes")]
    assert cli.main(["manifest", *files, "-o", str(target), "-o", str(tmp_path / "l.pdf")]) == 0
    assert "ba7816bf" in capsys.readouterr().out
    assert cli.main(["manifest", "--check", str(target)]) == 0
    assert "all files agree" in capsys.readouterr().out
    (folder / "girder.txt").write_bytes(b"abd")
    assert cli.main(["manifest", "--check", str(target)]) == 1
    assert "girder.txt was changed" in capsys.readouterr().out
    assert cli.main(["manifest"]) == 2
