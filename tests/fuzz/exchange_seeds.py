"""Seeds of what strangers can put into a team's folder, written as core/exchange/LAYOUT.md says. Where a device's id and
its signature belong, the targets put their own (src/exchange.rs)."""

import hashlib
import struct

ID = bytes(32)
HASH = bytes(range(32))
SECRET = bytes(range(16))
DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"


def number(value):
    out = bytearray()
    while True:
        low, value = value & 0x7F, value >> 7
        out.append(low | (0x80 if value else 0))
        if not value:
            return bytes(out)


def part(content):
    return number(len(content)) + content


def many(items):
    return number(len(items)) + b"".join(items)


def time(ms):
    return struct.pack(">q", ms)


def entry(kind, fields, after=(), keys=()):
    return b"newel member 1" + ID + time(1_900_000_000_000) + many(list(after)) + bytes([kind]) + fields + many(list(keys))


def signed():
    newcomer = ID + HASH + part(b"\x00" + part(b"Invented Person") + part(b"tablet"))
    key = bytes(8) + ID + HASH + bytes(48)
    entries = [
        entry(0, b"\x01" + SECRET + newcomer, keys=[key]),
        entry(0, b"\x00" + SECRET + newcomer),
        entry(1, bytes(8) + part(b"\x01" + bytes(40)), after=[HASH]),
        entry(2, bytes(8) + newcomer, after=[HASH, bytes([255]) * 32], keys=[key, key]),
        entry(3, ID + number(300) + many([HASH, HASH]), after=[HASH]),
        entry(4, ID + many([HASH]), after=[HASH]),
        entry(5, b"", after=[HASH], keys=[key]),
    ]
    join = b"newel join 1" + ID + HASH + bytes(8) + part(b"\x01" + bytes(40))
    lacks = [b"\x00" + ID + HASH, b"\x01" + HASH, b"\x02", b"\x03" + ID]
    packs = [HASH + number(3) + number(400) + number(0), HASH + number(300) + number(70_000) + number(2)]
    heads = [
        b"newel head 1" + ID + number(7) + time(-5) + many([]) + many([]) + many([]),
        b"newel head 1" + ID + number(7) + time(5) + many([HASH]) + many(packs) + many(lacks),
    ]
    return [b"\x00" + one for one in entries] + [b"\x01" + join] + [b"\x02" + one for one in heads]


def code():
    body = b"\x01" + HASH[:10] + SECRET
    body += hashlib.sha256(body).digest()[:2]
    bits = "".join(f"{byte:08b}" for byte in body)
    bits += "0" * (-len(bits) % 5)
    return "".join(DIGITS[int(bits[at : at + 5], 2)] for at in range(0, len(bits), 5))


def memory(feeds=(), sending=()):
    files = sets = requests = strangers = many([])
    lists = [HASH, files, sets, sets, many([]), many(list(feeds)), sets, many([]), sets, many(list(sending)), sets]
    return b"newel memory 1" + b"".join(lists) + number(4) + number(2) + number(9) + requests + strangers


def plain():
    blob = b"\x01\x01" + HASH + number(5_000_000) + many([HASH, HASH])
    packs = [
        b"P" + ID + number(0) + many([]),
        b"P" + ID + number(0) + many([b"\x00" + part(b"a change"), blob]),
    ]
    pack = HASH + number(3) + number(400) + number(0)
    feed = ID + number(4) + part(b"a head") + many([pack]) + many([number(0) + number(3)]) + many([])
    sending = HASH + b"\x01" + number(9_000_000) + bytes(8) + many([HASH])
    digits = HASH.hex()
    abouts = [f"Newel exchange, format 1, {how}, team {digits}\n\nMore." for how in ("sealed", "open")]
    texts = [b"\x01" + code().encode(), b"\x01" + code().lower().encode()]
    texts += [b"\x02" + about.encode() for about in abouts + ["Newel exchange, format 2, x", "[Another]"]]
    texts += [b"\x04" + name.encode() for name in (f"{digits}.1", f"{digits}.join", digits, f"{digits}.18446744073709551615")]
    memories = [memory(), memory([feed], [sending])]
    sealed = [b"\x00" + b"open", b"\x01" + bytes(60), b"\x02"]
    made = [b"\x00" + one for one in packs] + texts + [b"\x03" + one for one in memories]
    return made + [b"\x05" + one for one in sealed]


def row(kind, *parts):
    return kind + b"".join(struct.pack(">I", len(part)) + part for part in parts)


def rows():
    """Rows of the store, as core/record/src/store/row.rs says."""
    person, signature = b"Invented Anna", bytes(64)
    device = row(b"D", HASH, person, b"tablet")
    known = [
        device,
        row(b"A", SECRET, HASH, signature),
        row(b"C", b"yard", HASH, HASH, person, time(-5), signature, b"a chunk"),
        row(b"K", b""),
        row(b"K", b"{}"),
        row(b"P", HASH, "Stiege süd.jpg".encode(), b"jpeg", time(3), time(-4), b"{}"),
        row(b"T", HASH, struct.pack(">I", 320), HASH),
        row(b"D", HASH, person, b"tablet", b"of a newer release"),
    ]
    return known + [row(b"Z", HASH), device[:-1], row(b"D", HASH[:31], person, b"tablet")]
