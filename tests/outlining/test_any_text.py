"""Whatever the text: no error, no word put in, every passage on its characters."""

from __future__ import annotations

from hoopwright.model.document import DocumentKind
from hoopwright.outlining import outline
from hypothesis import given, settings
from hypothesis import strategies as st

from .mapping import check
from .pages import document

PIECES = (
    *("1.", "2.", "3)", "(4)", "a)", "b)", "i.", "A1.", "1.2", "4.2.1", "Step 3 -", "STEP 4", "①", "-", "*", "•", "#", "##", ">", "|"),
    *("---", "====", "+---+", "│", "| --- |", ".......", "\t", "   ", "      ", "\xa0", "\xad", "28", "28 off", "°", "½", "×", "…"),
    *("**bold**", "_it_", "`code`", "[link](x)", "[^1]", "&nbsp;", "<br>", "{#a}", "```", "\\*", "<!-- x -->", "purl-", "in", "and"),
    *("closed", "hoop.", "WARNING:", "NOTE", "Item", "Part", "Qty", "(optional)", "PAGE 1 OF 2", "Figure 2.", "Table B"),
    *("Slide one clip on", "each leg of the first", "PARTS LIST", "Saddle clamp, 42 mm", "Extra: vents", "Correction slip."),
    "Bag A holds ten ridge clips",
)

lines = st.lists(st.sampled_from(PIECES), max_size=6).map(" ".join)
texts = st.lists(st.one_of(lines, st.just(""), st.just("\f"), st.text(max_size=20).map(lambda t: t.replace("\n", " "))), max_size=25).map(
    "\n".join
)


@settings(max_examples=300, deadline=None)
@given(text=texts, kind=st.sampled_from(["text", "markdown"]))
def test_any_text(text: str, kind: DocumentKind) -> None:
    found = outline([document(text, kind)])
    check(found, whole=False)
    ids = [step.id for step in found.steps]
    assert len(set(ids)) == len(ids)
    sections = {section.id for section in found.sections}
    assert all(step.section in sections and step.items for step in found.steps)
