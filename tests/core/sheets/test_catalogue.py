import doctest
import io
import re
import string
from collections import Counter
from dataclasses import fields, is_dataclass, replace

import openpyxl
import pypdfium2
import pytest

from core.line import compute_line
from core.line.findings import find
from core.model.choices import LANGUAGES
from core.model.keypad import options_of
from core.records.back_and_forth import ToldBackAndForth
from core.records.comparing import compare
from core.records.consequences import consequences
from core.records.effect import Effect
from core.sheets import SHEETS, catalogue
from core.sheets.catalogue import TABLES, Catalogue, Row, rows_of, translator
from core.sheets.difference_sheet import difference_sheet
from core.sheets.entries import Entries
from core.sheets.pdf import pdf_bytes
from core.sheets.xlsx import xlsx_bytes
from core.store import LineFile
from tests.core.sheets import lines
from tests.core.sheets.spoken import inputs, refusals, sample, spoken

SAMPLES = ("quillback_hollow", "lindenmoor")
# No word of these is Spanish.
ENGLISH = re.compile(
    r"\b(the|and|of|with|without|from|is|are|not|entered|drives?|speeds?|wanted|stations?|fruit|"
    r"belts?|by|for|at|current|voltage|power|screen|settings?|reference|practice|memory|if|or|than|"
    r"which|what|where|this|that|its?|as|be|has|have|supply|earth|brush|pitch|width|length|"
    r"losses|breaker|none|yes|page)\b",
    re.IGNORECASE,
)
ROWS = rows_of("es")


# --- how a text is found --------------------------------------------------------------------

SMALL = Catalogue(
    (
        Row("field", "Size", "Medida"),
        Row("word:size", "Size", "Sección"),
        Row("field", "Rated power", "Potencia nominal"),
        Row("finding.says", "It has {number}.", "Tiene {number}."),
        Row("composed", "{tag} drive", "variador {tag}"),
        Row("composed", "Motor: {what}.", "Motor: {what}."),
        Row("composed", "at most {value}", "como máximo {value}"),
        Row("composed", "pump", "bomba"),
        Row("error", "It is {value}; {value} is too much.", "Es {value}; {value} es demasiado."),
    )
)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Rated power", "Potencia nominal"),
        ("rated power", "potencia nominal"),
        ("It has {number}.", "Tiene {number}."),
        ("It has 7.", "It has 7."),
        ("A01 drive", "variador A01"),
        ("Motor: rated power.", "Motor: potencia nominal."),
        ("at most 7 A, rated power; size", "como máximo 7 A, potencia nominal; medida"),
        ("Motor: pump. Motor: size.", "Motor: bomba. Motor: medida."),
        ("Size\nSize", "Medida\nMedida"),
        ("It is 7 A; 7 A is too much.", "Es 7 A; 7 A es demasiado."),
        ("It is 7 A; 8 A is too much.", "It is 7 A; 8 A is too much."),
        ("nobody knows", "nobody knows"),
        ("4.7 kΩ", "4.7 kΩ"),
        ("", ""),
    ],
)
def test_a_text_is_found_whole_or_by_its_template_or_piece_by_piece(text, told):
    assert SMALL.tr(text) == told
    assert SMALL.tr(text) == told  # and the same when asked again


def test_a_place_may_have_words_of_its_own():
    assert SMALL.tr("Size", "word:size") == "Sección"
    assert SMALL.tr("Size", "word:other") == SMALL.tr("Size") == "Medida"


def test_what_a_user_typed_stays_in_a_blank_but_words_of_the_program_do_not():
    assert SMALL.tr("pump drive") == "variador pump"
    assert SMALL.tr("Motor: pump.") == "Motor: bomba."


def test_a_language_without_a_table_is_english():
    assert translator("en")("Rated power", "field") == "Rated power"
    assert set(TABLES) == set(LANGUAGES) - {"en"}


def test_examples_in_the_docstrings_run():
    assert doctest.testmod(catalogue).failed == 0


# --- the table is whole ---------------------------------------------------------------------


def test_every_declared_text_has_a_row():
    known = {row.english for row in ROWS}
    assert [held for held in spoken() if held[1] not in known] == []


@pytest.mark.parametrize("gathered", [inputs, refusals])
def test_every_text_put_together_is_known(gathered):
    tr, texts = translator("es"), gathered()
    assert len(texts) > 50
    same = {"bins", "bits", "material", "rotor", "the 7"}
    assert {text for text in texts if tr(text) == text} - same == set()


def test_every_row_has_the_same_blanks():
    assert [row for row in ROWS if _blanks(row.english) != _blanks(row.other)] == []


def test_no_row_comes_twice_or_says_nothing():
    counts = Counter((row.where, row.english) for row in ROWS)
    assert [key for key, count in counts.items() if count > 1] == []
    assert [row for row in ROWS if not row.other.strip() or not row.where] == []


def test_signs_and_ends_of_sentences_are_kept():
    wrong = [
        row
        for row in ROWS
        if any(row.english.count(sign) != row.other.count(sign) for sign in "✓✗■▲○◇□≈≠→±")
        or (row.english[-1] in ".:" and row.english[-1] != row.other[-1])
        or (row.english[0] == " ") != (row.other[0] == " ")
    ]
    assert wrong == []


def test_no_row_is_left_in_english():
    # Names of sources are cited as they are printed.
    cited = ("California Agriculture", "AgEcon Search")
    left = [
        row
        for row in ROWS
        if ENGLISH.search(re.sub(r"\{.*?\}", "", row.other)) and not row.other.startswith(cited)
    ]
    assert {row.other for row in left} <= {"Indique even, odd, none."}


def test_signal_words_are_those_of_the_safety_sheets():
    say = Entries.of(replace(lines.line(), language="es")).say
    levels = ("danger", "warning", "caution", "notice")
    assert [say(level).upper() for level in levels] == [
        "PELIGRO", "ADVERTENCIA", "PRECAUCIÓN", "AVISO",
    ]  # fmt: skip


# --- sheets in Spanish ----------------------------------------------------------------------


@pytest.fixture(scope="module", params=SAMPLES)
def spanish(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("spanish") / "sample.linebook"
    path.write_bytes(sample(request.param))
    line = replace(LineFile.read(path), language="es")
    return line, compute_line(line)


def test_no_sheet_of_a_sample_holds_english(spanish):
    line, results = spanish
    documents = [kind.build(line, results) for kind in SHEETS.values()]
    assert _left_in_english(documents, line) == set()


def test_the_difference_sheet_of_a_sample_holds_no_english(spanish):
    after, results = spanish
    before = _changed(after)
    difference = compare(before, after)
    told = consequences(difference, compute_line(before), results)
    assert told
    turned = ToldBackAndForth("B01", "speed reference, voltage as set now", "5 V", "8 V", 2)
    names = ("As commissioned, revision 1", "The line as it stands in the file")
    document = difference_sheet(difference, told, *names, turned=(turned,))
    assert _left_in_english([document], before, after) == set()


def test_what_a_figure_misses_is_told_in_spanish():
    # 5.272 - 4.311 = 0.961.
    effect = Effect(
        "top_cups_1_s", "tops out at", "count_rate", 6.468, 4.311, 5.272, "least", "Ciruelas",
        "cups/s",
    )  # fmt: skip
    assert effect.words("metric", translator("es")) == (
        "llega como máximo a 4.311 copas/s, 0.961 por debajo de lo que la línea necesita para "
        "Ciruelas, antes 6.468 copas/s (-33 %)"
    )


def test_a_figure_at_the_nearest_speed_is_told_in_spanish():
    effect = Effect(
        "limit:turns_in_view", "{figure} at the nearest speed it reaches", "factor", 1.5, 1.246,
        1.5, "just", "Caquis", figure="Turns in view",
    )  # fmt: skip
    assert effect.words("metric").startswith("turns in view at the nearest speed it reaches 1.246")
    assert effect.words("metric", translator("es")) == (
        "giros a la vista a la velocidad más cercana que alcanza 1.246, 0.254 por debajo de lo que "
        "la línea necesita para Caquis, antes 1.5 (-17 %)"
    )


def test_one_label_of_two_fields_is_told_for_each():
    entries = Entries.of(replace(lines.line(), language="es"))
    assert entries.label("motor", "protection") == "Carcasa"
    assert entries.label("drive", "enclosure_id") == entries.label("enclosure") == "Gabinete"


def test_a_finding_is_told_with_its_figures_and_its_words():
    made = lines.line()
    cable = replace(made.stations[0].cables[0], run="reference", screen="both")
    station = replace(made.stations[0], cables=(cable,))
    line = replace(made, language="es", stations=(station,))
    finding = next(f for f in find(compute_line(line)).found if f.key == "screen-both-ends")
    entries = Entries.of(line)
    assert entries.says(finding) == (
        "El blindaje del cable de consigna está a tierra en ambos extremos."
    )
    assert finding.says("metric") == "The screen of the reference cable is earthed at both ends."


def test_paper_and_spreadsheet_show_the_accents():
    line = replace(lines.line(1), language="es")
    document = SHEETS["parameter_record"].build(line, compute_line(line))
    with pypdfium2.PdfDocument(pdf_bytes(document)) as held:
        paper = "\n".join(page.get_textpage().get_text_bounded() for page in held)
    book = openpyxl.load_workbook(io.BytesIO(xlsx_bytes(document)))
    cells = {str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row}
    for words in ("Registro de parámetros", "Línea", "Señal", "Tensión mayor", "PELIGRO"):
        assert words in paper or words == "Señal"
        assert any(words in cell for cell in cells) or words == "Señal"
    assert re.search(r"Página 1 de \d+", paper)
    assert "�" not in paper


def _blanks(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def _changed(line):
    """The line with other figures at its first station, and without its last."""
    first = line.stations[0]
    train = replace(first.drivetrain, gear_ratio=(first.drivetrain.gear_ratio or 1.0) * 1.1)
    motor = replace(first.motors[0], cooling="forced")
    return replace(
        line,
        stations=(replace(first, drivetrain=train, motors=(motor,)), *line.stations[1:-1]),
        flows=(),
    )


def _left_in_english(documents, *held) -> set[str]:
    own = sorted({text for line in held for text in _texts(line) if len(text) > 2}, key=len)
    left = set()
    for text in {text for document in documents for text in _texts(document)}:
        rest = text
        for typed in reversed(own):
            rest = rest.replace(typed, " ")
        if ENGLISH.search(rest):
            left.add(text)
    return left


_KEYS = ("level", "tone", "align", "medium", "language", "paper", "ink", "anchor", "group", "kind")


def _texts(held):
    """Every text in records and lists, but the keys that only tell how they are drawn."""
    if isinstance(held, str):
        yield held
    elif is_dataclass(held):
        if hasattr(held, "options"):
            yield from options_of(held).values()
        for field in fields(held):
            if field.name not in _KEYS:
                yield from _texts(getattr(held, field.name))
    elif isinstance(held, tuple | list):
        for entry in held:
            yield from _texts(entry)
