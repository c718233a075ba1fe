"""Which texts are turned away for their language.

The foreign texts are the first article of the Universal Declaration of Human Rights (United Nations, 1948), which the UN human rights
office publishes in all these languages; quoted here from memory, which is good enough to tell a language by.
"""

from __future__ import annotations

import hashlib

import pytest
from hoopwright.checks import check_language
from hoopwright.model.document import Document
from hoopwright.model.errors import NotAManual
from hoopwright.reading import read_documents

from library import CORPUS, EXAMPLES, HELD_OUT, NEWEST, SAMPLES, UNSEEN, Kit

ARTICLE_1 = {
    "Danish": "Alle mennesker er født frie og lige i værdighed og rettigheder. De er udstyret med fornuft og samvittighed, og de bør "
    "handle mod hverandre i en broderskabets ånd.",
    "Dutch": "Alle mensen worden vrij en gelijk in waardigheid en rechten geboren. Zij zijn begiftigd met verstand en geweten, en "
    "behoren zich jegens elkander in een geest van broederschap te gedragen.",
    "French": "Tous les êtres humains naissent libres et égaux en dignité et en droits. Ils sont doués de raison et de conscience et "
    "doivent agir les uns envers les autres dans un esprit de fraternité.",
    "German": "Alle Menschen sind frei und gleich an Würde und Rechten geboren. Sie sind mit Vernunft und Gewissen begabt und sollen "
    "einander im Geist der Brüderlichkeit begegnen.",
    "Italian": "Tutti gli esseri umani nascono liberi ed eguali in dignità e diritti. Essi sono dotati di ragione e di coscienza e "
    "devono agire gli uni verso gli altri in spirito di fratellanza.",
    "Polish": "Wszyscy ludzie rodzą się wolni i równi pod względem swej godności i swych praw. Są oni obdarzeni rozumem i sumieniem "
    "i powinni postępować wobec innych w duchu braterstwa.",
    "Portuguese": "Todos os seres humanos nascem livres e iguais em dignidade e em direitos. Dotados de razão e de consciência, devem "
    "agir uns para com os outros em espírito de fraternidade.",
    "Spanish": "Todos los seres humanos nacen libres e iguales en dignidad y derechos y, dotados como están de razón y conciencia, "
    "deben comportarse fraternalmente los unos con los otros.",
    "Swedish": "Alla människor är födda fria och lika i värde och rättigheter. De har utrustats med förnuft och samvete och bör handla "
    "gentemot varandra i en anda av gemenskap.",
}
ENGLISH = (
    "All human beings are born free and equal in dignity and rights. They are endowed with reason and conscience and should act "
    "towards one another in a spirit of brotherhood."
)
RUSSIAN = (
    "Все люди рождаются свободными и равными в своем достоинстве и правах. Они наделены разумом и совестью и должны поступать в "
    "отношении друг друга в духе братства."
)
FINNISH = (
    "Kaikki ihmiset syntyvät vapaina ja tasavertaisina arvoltaan ja oikeuksiltaan. Heille on annettu järki ja omatunto, ja heidän on "
    "toimittava toisiaan kohtaan veljeyden hengessä."
)


def document(text: str) -> Document:
    return Document("D1", "manual.txt", "text", 1, hashlib.sha256(text.encode()).hexdigest(), text, ())


@pytest.mark.parametrize("language", ARTICLE_1)
def test_a_listed_language_is_named(language: str) -> None:
    with pytest.raises(NotAManual, match=rf"^manual.txt: it seems to be in {language}, which is not read; give .* English") as raised:
        check_language([document(f"{ARTICLE_1[language]} {ARTICLE_1[language]}")])
    assert raised.value.exit_code == 3


def test_another_script_is_turned_away() -> None:
    with pytest.raises(NotAManual, match="script"):
        check_language([document(f"{RUSSIAN} {RUSSIAN}")])


def test_a_language_that_is_not_listed_is_turned_away_once_there_is_enough_of_it() -> None:
    with pytest.raises(NotAManual, match="another language"):
        check_language([document(" ".join([FINNISH] * 12))])


def test_english_passes() -> None:
    check_language([document(f"{ENGLISH} {ENGLISH}")])


@pytest.mark.parametrize("language", ARTICLE_1)
def test_two_languages_side_by_side_pass(language: str) -> None:
    check_language([document(f"{ENGLISH} {ARTICLE_1[language]} {ENGLISH}")])


def test_a_slip_of_a_few_words_passes() -> None:
    check_language([document("Correction: replace page 4. Sechs Schrauben statt vier.")])


@pytest.mark.parametrize("kit", [*SAMPLES, *EXAMPLES, *CORPUS, *HELD_OUT, *UNSEEN, *NEWEST], ids=lambda kit: kit.name)
def test_no_english_manual_is_turned_away(kit: Kit) -> None:
    check_language(read_documents([kit.manual]))
