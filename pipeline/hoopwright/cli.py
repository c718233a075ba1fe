"""The commands: options, progress, exit codes. No logic; what is heavy to import waits until a command needs it."""

from __future__ import annotations

import os
import re
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from hoopwright import __version__
from hoopwright.model.errors import HoopwrightError, UsageError

if TYPE_CHECKING:
    from hoopwright.reviewing.session import Review

DOUBTS_OPEN = 1  # with --strict: the schedule is written, but something is left to settle
STOPPED = 130  # 128 + SIGINT, as shells have it
FAULT = 70  # EX_SOFTWARE of sysexits.h: a fault of the tool itself

OUTPUTS = Path("outputs")

app = typer.Typer(
    name="hoopwright",
    help="From the manual of a hoop-framed tunnel to a hoop-by-hoop fitting schedule.",
    epilog="Example:  hoopwright schedule sample_manuals/meadow-5/meadow-5.pdf",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,  # plain help: importing rich takes longer than everything else here
)

Manuals = Annotated[
    list[Path],
    typer.Argument(
        metavar="MANUAL",
        help="The manual and its leaflets in the order in which they are read: PDF, text or Markdown. "
        "A folder stands for the files that its file 'order' names.",
        show_default=False,
    ),
]
GrammarFiles = Annotated[
    list[Path] | None,
    typer.Option("--grammar", metavar="FILE", help="A grammar file of your own, with more words; repeatable.", show_default=False),
]
UnitSystem = Annotated[Literal["metric", "imperial"], typer.Option("--units", help="For lengths; schedule.json stays in millimetres.")]
Reports = Annotated[
    list[str] | None,
    typer.Option("--only", metavar="REPORT", help="Write only this report beside schedule.json; repeatable.", show_default=False),
]
LeftOut = Annotated[
    list[str] | None,
    typer.Option("--without", metavar="OPTION", help="Leave out this optional extra; repeatable.", show_default=False),
]
AnswersFile = Annotated[
    Path | None,
    typer.Option("--answers", metavar="FILE", help="Your answers. [default: <manual>.answers.yaml beside it]", show_default=False),
]
ResultsFolder = Annotated[
    Path | None,
    typer.Option("--out", metavar="DIR", help="Where the results go. [default: outputs/<manual name>]", show_default=False),
]


@app.callback(invoke_without_command=True)
def _options(version: Annotated[bool, typer.Option("--version", help="Show the version and stop.")] = False) -> None:
    if version:
        typer.echo(f"hoopwright {__version__}")
        raise typer.Exit


@app.command(
    short_help="Write the fitting schedule of a manual.",
    epilog="Example:  hoopwright schedule sample_manuals/valley-7 --without 'basket rail'",
)
def schedule(
    manuals: Manuals,
    out: ResultsFolder = None,
    without: LeftOut = None,
    units: UnitSystem = "metric",
    strict: Annotated[bool, typer.Option("--strict", help="End with exit code 1 if warnings or questions are open.")] = False,
    grammar: GrammarFiles = None,
    only: Reports = None,
    paper: Annotated[Literal["a4", "us-letter"] | None, typer.Option("--paper", help="Of the sheets. [default: by the units]")] = None,
    share_sheets: Annotated[bool, typer.Option("--share-sheets", help="One sheet for all hoops that are dressed alike.")] = False,
    answers: AnswersFile = None,
) -> None:
    """Write the fitting schedule of a manual, hoop by hoop, and show it.

    Exit codes: 0 written; 1 written, but warnings or questions are open and --strict was given; 2 wrong usage;
    3 a document could not be read, or the results could not be written: nothing was written.
    """
    with _errors():
        from hoopwright.api import manual_files, settle, understand
        from hoopwright.reporting import print_summary, write_outputs
        from hoopwright.reviewing import accepted, answers_used, load_answers

        folder = out or OUTPUTS / _folder_name(manuals[0])
        with _progress() as progress:
            sources = manual_files(manuals)
            given = load_answers(sources[0], answers)
            found = understand(sources, grammars=grammar or (), progress=progress)
            settled = settle(found, given, without=without or (), progress=progress)
            made = settled.schedule
            if progress is not None:
                progress("writing the reports")
            files = write_outputs(made, folder, units=units, only=only, sources=sources, paper=paper, share_sheets=share_sheets)
        print_summary(made, units=units)
        for line in answers_used(sources[0], answers, given, settled):
            typer.echo(line)
        typer.echo(f"\nWritten to {_safe(str(folder))}: {', '.join(_safe(str(file.relative_to(folder))) for file in files)}")
        doubted = sum(not accepted(each) for each in made.warnings)
        if strict and (doubted or made.questions):
            typer.echo(f"hoopwright: still open: {doubted} warnings, {len(made.questions)} questions", err=True)
            raise typer.Exit(DOUBTS_OPEN)


@app.command(
    short_help="Show what each sentence was taken to say.",
    epilog="Example:  hoopwright readback sample_manuals/meadow-5/meadow-5.pdf --step 8",
)
def readback(
    manuals: Manuals,
    step: Annotated[
        str | None, typer.Option("--step", metavar="LABEL", help="Only the step with this printed number or letter.", show_default=False)
    ] = None,
    units: UnitSystem = "metric",
    grammar: GrammarFiles = None,
) -> None:
    """Show each sentence of a manual with what it was taken to say. Writes nothing."""
    with _errors():
        from hoopwright.api import understand
        from hoopwright.readback import labels_of, lines_of

        with _progress() as progress:
            found = understand(manuals, grammars=grammar or (), progress=progress)
        lines = list(lines_of(found.outline, found.reading.sentences, step, units))
        if step is not None and not lines:
            labels = ", ".join(labels_of(found.outline))
            remedy = f"the labels are {labels}" if labels else "its steps have no labels"
            raise UsageError(f"no sentence was found under a step “{step}”", remedy)
        for line in lines:
            typer.echo(line)


@app.command(
    short_help="List the open questions of a manual.",
    epilog="Example:  hoopwright questions sample_manuals/orchard-6/orchard-6.txt",
)
def questions(
    manuals: Manuals,
    form: Annotated[
        Path | None,
        typer.Option("--form", metavar="FILE", help="Write them as a form to fill in, for 'answer --from'.", show_default=False),
    ] = None,
    answers: AnswersFile = None,
    without: LeftOut = None,
    grammar: GrammarFiles = None,
) -> None:
    """List the questions that a manual leaves open, with what each reading would change: those first that settle most."""
    with _errors():
        from hoopwright.reviewing import listing

        review, _ = _review(manuals, answers, without, grammar)
        if form is not None:
            listing.write_form(review, form)
            typer.echo(f"{len(review.open())} open questions written to {_safe(str(form))}")
            return
        for line in listing.lines(review):
            typer.echo(line)
        typer.echo(f"{len(review.open())} of {len(review.questions())} questions are open")


@app.command(
    short_help="Answer a question of a manual.",
    epilog="Example:  hoopwright answer sample_manuals/orchard-6/orchard-6.txt --question 653798ea --say 'hoop 4'",
)
def answer(
    manuals: Manuals,
    question: Annotated[
        str | None, typer.Option("--question", metavar="KEY", help="As 'questions' lists it; its last part will do.", show_default=False)
    ] = None,
    say: Annotated[
        str | None, typer.Option("--say", metavar="WORDS", help="A reading, its letter, or a value of your own.", show_default=False)
    ] = None,
    note: Annotated[str, typer.Option("--note", metavar="WORDS", help="Who says so, or why.", show_default=False)] = "",
    also: Annotated[
        list[str] | None, typer.Option("--also", metavar="KEY", help="The same for this question; repeatable.", show_default=False)
    ] = None,
    take_back: Annotated[bool, typer.Option("--take-back", help="Take the question's answer back.")] = False,
    source: Annotated[
        Path | None, typer.Option("--from", metavar="FORM", help="Take over what is filled in in this form.", show_default=False)
    ] = None,
    accept: Annotated[
        str | None, typer.Option("--accept", metavar="WARNING", help="Accept a warning as it stands: W3.", show_default=False)
    ] = None,
    answers: AnswersFile = None,
    without: LeftOut = None,
    grammar: GrammarFiles = None,
) -> None:
    """Answer a question, take an answer back, take over a form that 'questions --form' wrote, or accept a warning.

    The answers file keeps it.
    """
    with _errors():
        from hoopwright.reviewing import listing

        one = sum(each is not None for each in (source, question, accept)) == 1
        if not one or (question is not None and (say is None) != take_back):
            raise UsageError("say what to answer", "give --question with --say or --take-back, or give --from or --accept")
        review, _ = _review(manuals, answers, without, grammar)
        done = listing.answer(review, question, say, note, source, also or ()) if accept is None else listing.accept(review, accept, note)
        for line in done:
            typer.echo(line)


@app.command(
    short_help="Answer the questions on a page in the browser.",
    epilog="Example:  hoopwright review sample_manuals/orchard-6/orchard-6.txt",
)
def review(
    manuals: Manuals,
    out: ResultsFolder = None,
    answers: AnswersFile = None,
    without: LeftOut = None,
    units: UnitSystem = "metric",
    grammar: GrammarFiles = None,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open it, or only show its address.")] = True,
) -> None:
    """Answer the questions on a page that this computer alone can open; at the end the schedule and the sheets are written."""
    with _errors():
        from hoopwright.reporting import write_outputs
        from hoopwright.reviewing.server import serve

        made, sources = _review(manuals, answers, without, grammar)
        folder = out or OUTPUTS / _folder_name(manuals[0])

        def write() -> list[Path]:
            return write_outputs(made.settled().schedule, folder, units=units, sources=sources)

        serve(made, sources, write, tell=typer.echo, browser=browser)


def _review(manuals: list[Path], answers: Path | None, without: list[str] | None, grammar: list[Path] | None) -> tuple[Review, list[Path]]:
    """The manual, read, with the answers that there are; and its files."""
    from hoopwright.api import manual_files, settle, understand
    from hoopwright.reviewing import answers_path
    from hoopwright.reviewing.session import Review

    with _progress() as progress:
        sources = manual_files(manuals)
        found = understand(sources, grammars=grammar or (), progress=progress)
        made = Review(answers or answers_path(sources[0]), lambda given: settle(found, given, without=without or ()))
        made.settled()
    return made, sources


@app.command(short_help="Explain the warnings.", epilog="Example:  hoopwright warnings trapped")
def warnings(
    code: Annotated[str | None, typer.Argument(metavar="[CODE]", help="A warning's code.", show_default=False)] = None,
) -> None:
    """Explain the warnings: what each says, why it matters, what to do. Without CODE: all of them in a line or two."""
    with _errors():
        from hoopwright.api import WARNING_CODES, describe_warning

        if code is None:
            for each in WARNING_CODES:
                says = describe_warning(each).split("\n\n")[2]
                typer.echo(_wrapped(f"{each:11}{says.partition('. ')[0].rstrip('.')}.", hanging=11))
            typer.echo("\n'hoopwright warnings CODE' says more.")
        elif code in WARNING_CODES:
            typer.echo("\n\n".join(_wrapped(block.lstrip("# ")) for block in describe_warning(code).strip().split("\n\n")))
        else:
            raise UsageError(f"there is no warning “{code}”", f"choose from {', '.join(WARNING_CODES)}")


def main() -> None:
    """Entry point of the ``hoopwright`` command."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a character shows a question mark; it is no reason to fail.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    app()


@contextmanager
def _errors() -> Iterator[None]:
    """Every failure as one line on standard error and an exit code; no traceback for anything that a file or an option can cause."""
    try:
        yield
    except HoopwrightError as error:
        typer.echo(f"hoopwright: {error}", err=True)
        raise typer.Exit(error.exit_code) from None
    except KeyboardInterrupt:
        typer.echo("hoopwright: stopped", err=True)
        raise typer.Exit(STOPPED) from None
    except BrokenPipeError:
        # The reader of the output (head, less) has gone; what had to be written is written. Python would complain again at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise typer.Exit from None
    except (typer.Exit, typer.Abort):
        raise
    except Exception as error:
        if os.environ.get("HOOPWRIGHT_DEBUG"):
            raise
        typer.echo(f"hoopwright: {_fault(error)}", err=True)
        raise typer.Exit(FAULT) from None


def _fault(error: Exception) -> str:
    """A fault of ours in one line, with the place where it came up; a traceback helps nobody who has a tunnel to build."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    where = f"{Path(trace.tb_frame.f_code.co_filename).name}, line {trace.tb_lineno}" if trace else "place unknown"
    remedy = "please report it with what HOOPWRIGHT_DEBUG=1 shows and, if you may, the manual"
    return f"the tool itself has failed ({type(error).__name__} in {where}: {_safe(str(error))[:200]}); {remedy}"


@contextmanager
def _progress() -> Iterator[Callable[[str], None] | None]:
    """What is being done, on standard error, as long as a terminal shows it."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.text import Text

    with Console(stderr=True).status("starting") as status:
        yield lambda line: status.update(Text(_safe(line)))


def _safe(text: str) -> str:
    from hoopwright.reporting.text import shown

    return shown(text)


def _wrapped(text: str, hanging: int = 0) -> str:
    return textwrap.fill(text, width=min(typer.get_terminal_size().columns, 100), subsequent_indent=" " * hanging)


def _folder_name(manual: Path) -> str:
    """A name for the results' folder: the manual's, without its ending and without what a file system or a shell may stumble over."""
    path = manual.absolute()  # not resolve(): a link is named by its own name
    name = path.name if path.is_dir() else path.stem
    return re.sub(r"[^\w.-]+", "-", name).strip("-.") or "manual"


if __name__ == "__main__":
    main()
