"""Designs in files: what is opened is what was saved, and whatever a file says, it is a design or a sentence.

The opponent is `jsonschema`, which knows the published schema and nothing of the models.
"""

import json
import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import letter_f
from strategies import motifs, names
from test_forms import changed, changed_text, outsider

import mosaickit as mk
from mosaickit.errors import FileError, MosaickitError, OptionError
from mosaickit.sizes import Edition
from mosaickit.sizes.designs.documents import design_from_json, design_to_json

SCHEMA = json.loads((Path(mk.__file__).parent / "sizes" / "designs" / "design.schema.json").read_text("utf-8"))
OUTSIDER = outsider(SCHEMA)
GAUGE = mk.Gauge(16, 18)

sizes = st.floats(0.5, 60)
gauges = st.builds(
    mk.Gauge,
    sizes,
    sizes,
    over=st.one_of(st.just(10.0), st.tuples(st.just(10.16), st.just(10.0))),
    blocked=st.booleans(),
)
skeins = st.builds(mk.Skein, st.floats(1, 1000), st.floats(1, 1000))
shares = st.floats(0, 1)
lengths = st.builds(mk.StitchLengths, *[st.floats(0.5, 9)] * 6, low=st.floats(0.5, 1.0), high=st.floats(1.0, 1.5))
settings_of_yarn = st.builds(
    mk.YarnSettings,
    between_rows=st.sampled_from(["carried", "cut"]),
    lengths=st.none() | lengths,
    skeins=st.none() | skeins | st.dictionaries(names, skeins, min_size=1, max_size=3),
    tail_cm=st.floats(0, 100),
    ease=shares,
    margin=shares,
)
lines = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=30).filter(str.isprintable)
words = st.builds(
    mk.PatternWords,
    title=lines,
    designer=lines,
    terms=st.sampled_from(["US", "UK"]),
    phrasing=st.sampled_from(["natural", "shortest"]),
    level=st.sampled_from([None, "basic", "complex"]),
    intro=lines.map("\n\n".join),
    notes=st.lists(lines, max_size=3),
    for_children=st.booleans(),
)
labels = st.builds(
    mk.YarnLabel,
    lines,
    line=lines,
    weight=st.none() | st.integers(0, 7),
    fibre=lines,
    **{step: st.sampled_from([None, *said]) for step, said in mk.sizes.CARE.items()},
)
measured = st.none() | st.tuples(st.floats(0.1, 500), st.floats(0.1, 500))
publishings = st.builds(
    mk.Publishing,
    contact=lines,
    copyright_line=lines,
    licence_line=lines,
    edition_line=lines,
    published=st.none() | st.dates(),
    errata=lines,
    language=st.sampled_from(["en", "en-GB", "de"]),
    gauge_stitch=lines,
    notions=st.lists(lines, max_size=3),
    finishing=lines.map("\n\n".join),
    blocking=lines,
    unblocked_cm=measured,
    blocked_cm=measured,
    labels=st.lists(labels, max_size=2, unique_by=lambda label: label.yarn),
)
swatches = st.builds(
    mk.Swatch,
    motifs(most=5).map(lambda motif: mk.compile_chart(mk.nearest_workable(motif).motif)),
    gauges,
    metres=st.dictionaries(st.sampled_from(["MC", "CC"]), st.floats(0.1, 99), min_size=1),
    resolution=st.floats(0.001, 1),
)


@st.composite
def designs(draw, editions=True):
    """Any design, workable or not."""
    motif = draw(motifs(most=7))
    rows, columns = motif.shape
    in_the_round = draw(st.booleans())
    surround = mk.Surround(
        balance_across=0 if in_the_round else draw(st.one_of(st.integers(0, columns - 1), st.just("half"))),
        balance_up=draw(st.integers(0, rows - 1)),
        rings=0 if in_the_round else draw(st.integers(0, 3)),
        edges=draw(st.none() | st.just(0) if in_the_round else st.none() | st.integers(0, 3)),
        rows_below=draw(st.integers(0, 3)),
        rows_above=draw(st.integers(0, 3)),
        colours=draw(st.sampled_from(["keep", "swap"])),
        in_the_round=in_the_round,
    )
    yarn_settings = draw(settings_of_yarn)
    own = yarn_settings.lengths is not None
    earlier = ()
    if editions:
        earlier = draw(st.lists(st.builds(Edition, st.dates(), lines.filter(str.strip), designs(False)), max_size=2))
    return mk.Design(
        motif,
        draw(st.none() | gauges),
        across=draw(st.integers(1, 50)),
        up=draw(st.integers(1, 50)),
        laying=draw(st.sampled_from(["straight", "brick", "half-drop", "mirrored"])),
        seam=draw(st.sampled_from(["double", "shared"])),
        surround=surround,
        reversible=draw(st.booleans()),
        hand=draw(st.sampled_from(["right", "left"])),
        yarn_settings=yarn_settings,
        by_thread=False if own else draw(st.booleans()),
        swatches=[] if own else draw(st.lists(swatches, max_size=2)),
        hook_mm=draw(st.none() | st.floats(0.5, 20)),
        words=draw(words),
        publishing=draw(publishings),
        editions=tuple(earlier),
    )


@given(designs())
def test_what_is_opened_is_what_was_saved_and_an_outside_reader_agrees(design):
    text = design_to_json(design)
    again = design_from_json(text)
    assert again == design
    assert hash(again) == hash(design)
    assert design_to_json(again) == text
    OUTSIDER.validate(json.loads(text))
    for row in design.motif.to_text().split():
        assert re.search(rf'^ *"{re.escape(row)}",?$', text, re.MULTILINE)  # one row of squares a line


def full():
    """A design with something in every place."""
    motif = mk.Motif.from_text("....\n####\n.##.\n####\n....", name="leaf")
    chart = mk.compile_chart(motif)
    swatch = mk.Swatch(
        chart,
        GAUGE,
        grams={"MC": 0.5, "CC": 0.4},
        resolution=0.1,
        yarn_settings=mk.YarnSettings(skeins=mk.Skein(105.0, 50.0)),
    )
    skeins = {yarn: mk.Skein(105.0, 50.0) for yarn in ("cream", "ink blue")}
    design = mk.Design(motif, GAUGE, swatches=[swatch], hook_mm=4.5).but(
        across=3, up=2, colours="swap", skeins=skeins, title="Leaf", notes=["Block it."], level="easy", yarn_mm=2.5
    )
    return design.edition("begun", date=date(2026, 5, 31)).but(rings=1)


@pytest.mark.thorough
def test_of_5000_changed_files_each_is_a_design_or_a_sentence_as_the_schema_says():
    rng = np.random.default_rng(17)
    told = json.loads(design_to_json(full()))
    read, refused, unsaid = 0, [], set()
    for _ in range(5000):
        document = changed(told, rng)
        valid = OUTSIDER.is_valid(document)
        try:
            design = design_from_json(json.dumps(document))
        except FileError as error:
            refused.append(str(error))
            if valid:
                law = str(error).split(": ", 1)[-1] if str(error).startswith("At ") else str(error)
                unsaid.add(re.sub(r"[\d.,]+|'[^']*'|\"[^\"]*\"|`[^`]*`", "…", law)[:40])
        else:
            read += 1
            assert valid, document
            assert design_from_json(design_to_json(design)) == design
    assert read > 200
    assert len(refused) > 2000
    assert {sentence[-1] for sentence in refused} == {".", "?"}
    # what the schema cannot say, which its own words list: laws of motifs and charts, and of what goes together
    assert len(unsaid) < 40, unsaid


@pytest.mark.thorough
def test_of_5000_damaged_files_each_is_a_design_or_a_sentence_and_the_file_stays(tmp_path):
    rng = np.random.default_rng(18)
    file = mk.save(full(), tmp_path / "leaf.design")
    whole = file.read_text("utf-8")
    read, refused = 0, []
    for _ in range(5000):
        file.write_text(changed_text(whole, rng), "utf-8")
        before = file.read_bytes()
        try:
            assert isinstance(mk.load(file), mk.Design)
            read += 1
        except FileError as error:
            refused.append(str(error))
        assert file.read_bytes() == before
    assert 0 < read < 2500
    assert [sentence for sentence in refused if "leaf.design" not in sentence] == []


def test_a_file_of_another_design_is_not_replaced_without_being_asked(tmp_path):
    file = mk.save(full(), tmp_path / "leaf.design")
    mk.save(full().but(across=9), file)  # its own
    with pytest.raises(mk.errors.TakenError, match=r"leaf\.design"):
        mk.save(full().but(title="Another"), file)
    assert mk.load(file).across == 9


@pytest.mark.parametrize(
    ("act", "sentence"),
    [
        (lambda d, f: mk.save(d, f / "leaf.json"), r"ends in \.design.*got 'leaf\.json'"),
        (lambda d, f: mk.save(d.motif, f / "leaf.design"), r"\.design is for designs: save mk\.Design\(motif\)"),
        (lambda d, f: mk.save(d, f / "leaf.design", square=4), "without `format` and `square`"),
        (lambda d, f: mk.save(3, f / "leaf.design"), "`what` must be a `Motif`; got 3"),
        (lambda d, f: mk.load(f / "none.design"), "none.design"),
        (lambda d, f: mk.load(mk.save(d, f / "leaf.design"), first="MC"), "says everything itself: leave out `first`"),
        (lambda d, f: d.edition(""), "`changed` must be one line that says what changed"),
        (lambda d, f: d.edition("a\nb"), "`changed` must be one line"),
        (lambda d, f: d.edition("x").edition("y"), "Nothing changed since edition 2: x"),
        (lambda d, f: d.edition("x", date="today"), "`date` must be a `date` or None"),
    ],
)
def test_what_cannot_be_saved_opened_or_kept_is_refused_in_a_sentence(tmp_path, act, sentence):
    with pytest.raises(MosaickitError, match=sentence):
        act(full(), tmp_path)


def test_any_edition_can_be_opened_again_and_compared():
    design = full()
    (begun,) = design.editions
    assert (begun.date, begun.changed) == (date(2026, 5, 31), "begun")
    assert begun.design == design.but(rings=0, editions=())
    assert "Rings of the frame: 0, now 1" in str(mk.compare(begun.design, design))


def test_a_huge_file_and_a_hostile_one_are_refused_at_once(tmp_path):
    file = tmp_path / "leaf.design"
    for text in (
        '{"format":' * 100_000,
        '{"format": "mosaickit design", "version": 1, "x": ' + "9" * 5000 + "}",
        "",
        "\0",
    ):
        file.write_text(text, "utf-8")
        with pytest.raises(FileError, match=r"leaf\.design"):
            mk.load(file)


def test_a_motif_is_no_design_and_says_so(tmp_path):
    motif = full().motif
    file = mk.save(motif, tmp_path / "leaf.json")
    (tmp_path / "leaf.design").write_bytes(file.read_bytes())
    with pytest.raises(FileError, match='This is no design: expected an object with "format": "mosaickit design"'):
        mk.load(tmp_path / "leaf.design")
    with pytest.raises(OptionError, match="A design has no `motiv`: did you mean `motif`"):
        full().but(motiv=motif)


def test_a_design_from_before_the_stitch_of_the_gauge_was_asked_for_is_read():
    design = mk.Design(letter_f, mk.Gauge(16, 18))
    kept = json.loads(design_to_json(design))
    del kept["publishing"]["gauge_stitch"]
    assert design_from_json(json.dumps(kept)) == design
