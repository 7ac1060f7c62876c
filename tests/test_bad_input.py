"""Thousands of damaged files and texts: each is refused with a sentence or read as a motif; nothing else happens.

Good files of every format are damaged at random, with a fixed seed: bits turned, bytes swapped, spans cut out, put in
or doubled, the end cut off. PNG files are damaged as they are and, so that more than the checksum is tested, inside
their chunks with the checksums mended.
"""

import hashlib
import io
import struct
import warnings
import zlib
from collections import Counter

import numpy as np
import pytest
from PIL import Image
from samples import letter_f, stripes

from mosaickit import Motif, Yarn, Yarns
from mosaickit.errors import FileError, MosaickitError, MotifError
from mosaickit.files import load, save

SEED = 20_240_229
ROUNDS = {"json": 1200, "csv": 600, "txt": 600, "png": 800, "png, mended": 1600, "text": 600}

STRIPES = stripes.named("Streifen ☂").with_yarns(
    Yarns(mc=Yarn("sand", "#e9dcc3"), cc=[(1, Yarn("deep", "#123f5a")), (3, Yarn("foam", "#3d8f92"))])
)


# ---- damage ----------------------------------------------------------------------------------------------


def turn_a_bit(data, rng):
    at = rng.integers(len(data))
    return data[:at] + bytes([data[at] ^ (1 << rng.integers(8))]) + data[at + 1 :]


def cut_off(data, rng):
    return data[: rng.integers(len(data))]


def span(data, rng):
    start = rng.integers(len(data))
    return start, min(len(data), start + 1 + rng.geometric(0.2))


def put_in(data, rng):
    at = rng.integers(len(data) + 1)
    return data[:at] + rng.bytes(rng.geometric(0.3)) + data[at:]


def put_in_what_is_there(data, rng):
    start, end = span(data, rng)
    at = rng.integers(len(data) + 1)
    return data[:at] + data[start:end] + data[at:]


def cut_out(data, rng):
    start, end = span(data, rng)
    return data[:start] + data[end:]


def double(data, rng):
    start, end = span(data, rng)
    return data[:end] + data[start:]


def swap(data, rng):
    swapped = bytearray(data)
    one, two = rng.integers(len(data), size=2)
    swapped[one], swapped[two] = swapped[two], swapped[one]
    return bytes(swapped)


DAMAGES = (turn_a_bit, cut_off, put_in, put_in_what_is_there, cut_out, double, swap)


def damaged(data, rng):
    for _ in range(rng.integers(1, 4)):
        data = DAMAGES[rng.integers(len(DAMAGES))](data, rng) if data else data
    return data


def chunks_of(png):
    at = 8
    while at < len(png):
        length = int.from_bytes(png[at : at + 4], "big")
        yield png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        at += 12 + length


def put_together(chunks):
    parts = (
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in chunks
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def damaged_inside(png, rng):
    """Damage what a PNG says, and mend its checksums: a chunk, the unpacked pixels, or the order of the chunks."""
    chunks = list(chunks_of(png))
    at = rng.integers(len(chunks))
    kind, body = chunks[at]
    way = rng.integers(8)
    if way == 0:
        chunks.insert(rng.integers(len(chunks)), chunks[at])
    elif way == 1:
        del chunks[at]
    elif kind == b"IDAT" and way < 6:
        chunks[at] = kind, zlib.compress(damaged(zlib.decompress(body), rng))
    else:
        chunks[at] = kind, damaged(body, rng)
    return put_together(chunks)


# ---- good files ------------------------------------------------------------------------------------------


def good_pngs(folder):
    yield from (save(letter_f, folder / "a.png").read_bytes(), save(STRIPES, folder / "b.png", square=3).read_bytes())
    greys = np.where(letter_f.grid, 0, 255).astype(np.uint8)
    for mode, options in {
        "1": {},
        "L": {"transparency": 7},
        "P": {"transparency": 7},
        "RGB": {"transparency": (1, 2, 3)},
        "RGBA": {"icc_profile": b"no profile"},
        "LA": {},
    }.items():
        out = io.BytesIO()
        Image.fromarray(greys).convert(mode).save(out, "PNG", **options)
        yield out.getvalue()
    sixteen = b"".join(b"\0" + row.tobytes() for row in greys.astype(">u2") * 257)
    header = struct.pack(">IIBBBBB", 7, 7, 16, 0, 0, 0, 0)
    yield put_together([(b"IHDR", header), (b"IDAT", zlib.compress(sixteen)), (b"IEND", b"")])


@pytest.fixture(scope="module")
def good(tmp_path_factory):
    folder = tmp_path_factory.mktemp("good")
    files = {
        ending: [save(motif, folder / f"good.{ending}", replace=True).read_bytes() for motif in (letter_f, STRIPES)]
        for ending in ("json", "csv", "txt")
    }
    files["csv"].append(b'\xef\xbb\xbf0, 1\r\n"1",0\r\n\r\n')
    files["png"] = files["png, mended"] = list(good_pngs(folder))
    files["text"] = files["txt"]
    return files


def test_what_is_about_to_be_damaged_is_good(good, tmp_path):
    for kind in ("json", "csv", "txt", "png"):
        for data in good[kind]:
            file = tmp_path / f"good.{kind}"
            file.write_bytes(data)
            assert load(file).shape in (letter_f.shape, stripes.shape, (2, 2))
            if kind == "png":
                assert put_together(chunks_of(data)) == data


# ---- the promise -----------------------------------------------------------------------------------------


def is_a_sentence(error, name):
    message = str(error)
    return (
        message.startswith(name)
        and message.endswith(".")
        and len(message) > len(name) + 15
        and len(message) < 600
        and "\n" not in message
        and "Traceback" not in message
        and " object at 0x" not in message
    )


def outcome(read, kind, *given):
    """Give the motif and None, or None and the error that says why not; any other error goes through."""
    try:
        return read(*given), None
    except kind as error:
        return None, error


def read(kind, data, folder):
    """Read damaged data as a maker would; give the motif, or None if it was refused in the promised way."""
    if kind == "text":
        motif, error = outcome(Motif.from_text, MotifError, data.decode("utf-8", "replace"))
        assert error is None or is_a_sentence(error, "")
        return motif
    file = folder / f"leaf.{kind.split(',')[0]}"
    file.write_bytes(data)
    before = hashlib.sha256(data).digest()
    motif, error = outcome(load, FileError, file)
    assert error is None or is_a_sentence(error, f"'{file.name}': ")
    assert hashlib.sha256(file.read_bytes()).digest() == before
    assert [path.name for path in folder.iterdir()] == [file.name]
    return motif


@pytest.mark.thorough
@pytest.mark.parametrize("kind", ROUNDS)
def test_damaged_input_is_refused_with_a_sentence_or_read_as_a_motif(kind, good, tmp_path_factory):
    rng = np.random.default_rng([SEED, list(ROUNDS).index(kind)])
    folder, again = tmp_path_factory.mktemp("damaged"), tmp_path_factory.mktemp("again")
    damage = damaged_inside if kind == "png, mended" else damaged
    outcomes = Counter()
    for _ in range(ROUNDS[kind]):
        data = damage(good[kind][rng.integers(len(good[kind]))], rng)
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            motif = read(kind, data, folder)
        outcomes["read" if motif is not None else "refused"] += 1
        if motif is not None and outcomes["read"] % 5 == 1:  # saving is slow, since it waits for the disk
            for ending in ("json", "png"):
                assert load(save(motif, again / f"again.{ending}", replace=True)) == motif
    assert outcomes.total() == ROUNDS[kind]
    assert min(outcomes["read"], outcomes["refused"]) >= 5, outcomes


def test_there_are_thousands_of_them():
    assert sum(ROUNDS.values()) >= 2_000
    assert issubclass(FileError, MosaickitError)


def test_damage_is_the_same_each_time_and_of_every_kind():
    data = bytes(range(100))
    one, two = ([damage(data, np.random.default_rng(SEED)) for damage in DAMAGES] for _ in range(2))
    assert one == two
    assert data not in one
