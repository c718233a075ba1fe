"""The answers file: comments stay, nothing is lost, a broken file is left alone and named with its line."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hoopwright.model.errors import HoopwrightError
from hoopwright.reviewing import Answer, Answers, AnswersError, Correction, load
from hoopwright.reviewing.store import buying, change, correcting, setting, uncorrecting, withdrawing
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

ANSWER = Answer("Hang two tool hooks on hoops 3 and 4.", "quantity", "tool hook", choice="2 on each", question="in all, or on each?")
OTHER = Answer("Snap one clip over hoop 7.", "position", "clip", value="1 m above the ground", note="asked the maker")

WRITER = """
import sys
from pathlib import Path
from hoopwright.reviewing import Answer
from hoopwright.reviewing.store import change, setting
path, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
for number in range(count):
    change(path, setting(Answer(f"{name} sentence {number}.", "quantity", "clip", value=str(number))))
    print(number, flush=True)
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "kit.answers.yaml"


def read_anew(path: Path) -> Answers:
    """What another process finds in the file: this one remembers what it wrote."""
    copy = path.with_name("copy.answers.yaml")
    shutil.copyfile(path, copy)
    return load(copy)


def test_there_and_back(path: Path) -> None:
    correction = Correction("add", "clip", quantity=2, hoops="2 to 4", at="1 m above the ground", note="we have spare ones")
    change(path, setting(ANSWER), setting(OTHER), correcting(correction), buying("shade rail", False))
    found = read_anew(path)
    assert set(found.answers) == {ANSWER, OTHER}
    assert found.corrections == (correction,)
    assert found.extras == (("shade rail", False),)


def test_no_file_is_no_answers(path: Path) -> None:
    assert load(path).empty


def test_comments_order_and_quotes_of_the_user_stay(path: Path) -> None:
    mine = (
        "# Alder farm, back field\nform: hoopwright/answers/1\nanswers:\n"
        "  # the maker rang back on Friday\n  - sentence: 'Hang two tool hooks on hoops 3 and 4.'   # page 4\n"
        "    asked: {about: quantity, fitting: tool hook}\n    choice: 2 on each\n    note: keep this\n"
    )
    path.write_text(mine, encoding="utf-8")
    change(path, setting(OTHER))
    assert path.read_text(encoding="utf-8").startswith(mine.rstrip("\n"))
    change(path, setting(Answer(ANSWER.sentence, "quantity", "tool hook", choice="1 on each")))
    text = path.read_text(encoding="utf-8")
    for line in ("# Alder farm, back field", "# the maker rang back on Friday", "# page 4", "note: keep this", "choice: 1 on each"):
        assert line in text
    assert len(load(path).answers) == 2


def test_a_file_of_comments_alone_keeps_them(path: Path) -> None:
    path.write_text("# only words\n", encoding="utf-8")
    change(path, setting(ANSWER))
    assert path.read_text(encoding="utf-8").startswith("# only words\n")
    assert load(path).answers == (ANSWER,)


def test_an_answer_is_replaced_not_doubled_and_taken_out(path: Path) -> None:
    change(path, setting(ANSWER))
    change(path, setting(Answer("  hang TWO tool hooks on hoops 3 and 4", "quantity", "Tool hook", value="5")))
    assert [each.words for each in load(path).answers] == ["5"]
    change(path, withdrawing(ANSWER))
    assert load(path).answers == ()


def test_a_correction_is_taken_out_again(path: Path) -> None:
    correction = Correction("change", "clip", quantity=3, hoops="2")
    change(path, correcting(correction))
    change(path, correcting(correction))
    assert load(path).corrections == (correction,)
    change(path, uncorrecting(correction))
    assert load(path).corrections == ()


BROKEN = [
    ("answers:\n  - sentence: a\n   asked: b\n", "line 3"),
    ("answers: [\n", "line"),
    ("answers:\n  - sentence: a\n    asked: {about: quantity}\n    chioce: 2\n", "line 4"),
    ("answers:\n  - asked: {about: quantity}\n", "line 2"),
    ("answers:\n  - sentence: a\n    asked: {about: colour}\n", "line 3"),
    ("answers:\n  - sentence: a\n", "line 2"),
    ("anwsers: []\n", "line 1"),
    ("just words\n", "line 1"),
    ("- a\n- b\n", "line 1"),
    ("form: hoopwright/answers/9\n", "line 1"),
    ("answers: 3\n", "line 1"),
    ("corrections:\n  - do: jump\n    fitting: clip\n", "line 2"),
    ("corrections:\n  - do: change\n    fitting: clip\n    quantity: many\n", "line 4"),
    ("corrections:\n  - do: structure\n    fact: colour\n    value: 2\n", "line 2"),
    ("extras:\n  shade rail: perhaps\n", "line 2"),
    ("answers: []\nanswers: []\n", "line 2"),
    ("a: !!python/object:os.system ls\n", "line 1"),
    ("answers:\n  - sentence: [a]\n    asked: {about: quantity}\n", "line 2"),
    ("\x00\n", ""),
]


@pytest.mark.parametrize(("text", "line"), BROKEN)
def test_a_file_broken_by_hand_is_named_and_left_alone(path: Path, text: str, line: str) -> None:
    path.write_text(text, encoding="utf-8")
    for writing in (False, True):
        with pytest.raises(HoopwrightError) as caught:
            change(path, setting(ANSWER)) if writing else load(path)
        assert path.name in str(caught.value)
        assert line in str(caught.value)
        assert "\n" not in str(caught.value)
    assert path.read_text(encoding="utf-8") == text


def test_a_file_that_is_no_text(path: Path) -> None:
    path.write_bytes(b"\xff\xfe\x00answers")
    with pytest.raises(AnswersError, match="UTF-8"):
        load(path)


def test_two_processes_lose_nothing(path: Path) -> None:
    command = [sys.executable, "-c", WRITER, str(path)]
    running = [subprocess.Popen([*command, name, "12"], stdout=subprocess.DEVNULL) for name in ("first", "second")]
    assert [process.wait(60) for process in running] == [0, 0]
    assert len(load(path).answers) == 24


def test_killed_while_saving_loses_nothing_that_was_saved(path: Path) -> None:
    for attempt in range(6):
        process = subprocess.Popen([sys.executable, "-c", WRITER, str(path), f"try {attempt}", "1000"], stdout=subprocess.PIPE, text=True)
        assert process.stdout is not None
        said = [process.stdout.readline() for _ in range(3)]
        time.sleep(0.003 * attempt)  # somewhere within a save
        os.kill(process.pid, signal.SIGKILL)
        rest = process.stdout.read().splitlines()
        process.wait()
        process.stdout.close()
        saved = len(said) + len(rest)
        mine = [each for each in load(path).answers if each.sentence.startswith(f"try {attempt} ")]
        assert len(mine) in (saved, saved + 1)  # one more may have been saved and not yet told
    change(path, setting(ANSWER))  # no lock is left behind


@pytest.fixture
def closed_folder() -> Iterator[Path]:
    """A folder in which this process may not write, also where the tests are run by root."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        change(folder / "kit.answers.yaml", setting(ANSWER))
        folder.chmod(0o555)
        root = os.geteuid() == 0
        if root:
            os.seteuid(65534)  # nobody
        try:
            yield folder
        finally:
            if root:
                os.seteuid(0)
            folder.chmod(0o755)


def test_a_folder_that_cannot_be_written(closed_folder: Path) -> None:
    path = closed_folder / "kit.answers.yaml"
    before = path.read_bytes()
    with pytest.raises(AnswersError, match=r"cannot be written \(Permission denied\).*not saved.*--answers"):
        change(path, setting(OTHER))
    assert path.read_bytes() == before
    assert load(path).answers == (ANSWER,)


@pytest.mark.parametrize("step", ["fsync", "write"])
def test_a_full_disk(path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    change(path, setting(ANSWER))
    before = path.read_bytes()

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    if step == "fsync":
        monkeypatch.setattr("hoopwright.reviewing.store.os.fsync", full)
    else:
        monkeypatch.setattr("hoopwright.reviewing.store.tempfile.mkstemp", full)
    with pytest.raises(AnswersError, match=r"No space left on device.*not saved"):
        change(path, setting(OTHER))
    assert path.read_bytes() == before
    assert [each.name for each in path.parent.iterdir() if each.suffix == ".tmp"] == []


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.text(max_size=60), min_size=4, max_size=4))
def test_any_text_comes_back_from_the_file_as_it_was_told(path: Path, texts: list[str]) -> None:
    """What a change gives back is what a new reading of the file finds: manuals and notes hold every character there is."""
    path.unlink(missing_ok=True)
    sentence, value, note, fitting = texts
    sentence = sentence if sentence.strip() else "x"  # an answer without its sentence is none
    told = change(path, setting(Answer(sentence, "quantity", fitting or None, value=value or "1", note=note)), setting(ANSWER))
    assert read_anew(path) == told


COMMENTED = """# mine
form: hoopwright/answers/1
answers: # a
  # the maker rang back
  - sentence: Hi there. # eol
    # in
    asked: {about: quantity, fitting: clip}
    choice: 2
  # tail
corrections:
 # before
 - do: remove
   fitting: clip
   hoops: 2 # both
extras:
  # seen
  shade: bought # yes
# end
"""


@pytest.mark.parametrize("seed", range(20))
def test_no_chain_of_changes_loses_a_comment_or_breaks_the_file(path: Path, seed: int) -> None:
    dice = random.Random(seed)
    path.write_text(COMMENTED, encoding="utf-8")
    own = [line.strip() for line in COMMENTED.splitlines() if line.lstrip().startswith("#")]
    answers = [Answer("Hi there.", "quantity", "clip", value="9"), ANSWER, OTHER]
    corrections = [Correction("remove", "clip", hoops="2"), Correction("remove", "clip", hoops="2", note="# gone: 'a'")]
    for _ in range(12):
        deed = dice.choice([setting, withdrawing])(dice.choice(answers))
        other = dice.choice([correcting, uncorrecting])(dice.choice(corrections))
        told = change(path, dice.choice([deed, other, buying("shade", dice.choice([True, False, None]))]))
        assert read_anew(path) == told
        assert [line for line in own if line not in path.read_text(encoding="utf-8")] == []


def test_what_another_process_wrote_is_read_not_remembered(path: Path) -> None:
    change(path, setting(ANSWER))
    path.write_text(path.read_text(encoding="utf-8").replace("2 on each", "1 on each"), encoding="utf-8")
    assert [each.choice for each in load(path).answers] == ["1 on each"]
    assert [each.choice for each in change(path, setting(OTHER)).answers] == ["1 on each", None]


def test_saving_is_quick(path: Path) -> None:
    change(path, *[setting(Answer(f"Sentence number {number}.", "quantity", "clip", value="2")) for number in range(12)])
    started = time.perf_counter()
    change(path, setting(ANSWER))
    assert time.perf_counter() - started < 0.5  # the bar is 50 ms on a quiet machine; this one is shared
