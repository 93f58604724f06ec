"""Reads a shared folder as LAYOUT.md describes it; written from that page, with OpenSSL's ciphers and no code of Newel.

Usage: reader.py FOLDER SECRET   (SECRET: 64 digits, the secret bytes of a device's Ed25519 key)
Prints one line for each item of each member's feed: device, position, SHA-256 of the data or of the blob read whole.
"""

import hashlib
import hmac
import os
import sys

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.asymmetric.x25519 import X25519PrivateKey, X25519PublicKey
from cryptography.hazmat.primitives.ciphers.aead import AESSIV
from cryptography.hazmat.primitives.kdf.hkdf import HKDF

RAW = (serialization.Encoding.Raw, serialization.PublicFormat.Raw)


def derive(secret, info, length, salt=b"newel exchange 1"):
    return HKDF(algorithm=hashes.SHA256(), length=length, salt=salt, info=info).derive(secret)


class Bytes:
    def __init__(self, data):
        self.data, self.at = data, 0

    def raw(self, length):
        assert self.at + length <= len(self.data), "cut short"
        self.at += length
        return self.data[self.at - length:self.at]

    def number(self):
        value, shift = 0, 0
        while True:
            byte = self.raw(1)[0]
            value |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                return value

    def part(self):
        return self.raw(self.number())

    def list(self, each):
        return [each() for _ in range(self.number())]


class Team:
    def __init__(self, key):
        self.key = key
        self.id = derive(key, b"id", 8)

    def open(self, purpose, context, sealed):
        assert sealed[0] == 1 and sealed[1:9] == self.id
        return AESSIV(derive(self.key, purpose, 64)).decrypt(sealed[9:], [sealed[:9], context])

    def name(self, plain):
        return hmac.new(derive(self.key, b"name", 32), plain, hashlib.sha256).digest()


def signed(device, data):
    Ed25519PublicKey.from_public_bytes(device).verify(data[-64:], data[:-64])
    return Bytes(data[:-64])


def newcomer(entry):
    device, _receives, _label = entry.raw(32), entry.raw(32), entry.part()
    return device


def main(folder, secret):
    own = Ed25519PrivateKey.from_private_bytes(secret).public_key().public_bytes(*RAW)
    receive = X25519PrivateKey.from_private_bytes(derive(secret, b"receive", 32))
    with open(os.path.join(folder, "newel-exchange.txt"), encoding="utf-8") as file:
        first = file.readline()
    assert first.startswith("Newel exchange, format 1, sealed, team "), first

    def read(*path):
        with open(os.path.join(folder, *path), "rb") as file:
            return file.read()

    teams, members = {}, set()
    for name in sorted(os.listdir(os.path.join(folder, "members"))):
        data = read("members", name)
        assert hashlib.sha256(data).hexdigest() == name
        entry = signed(data[14:46], data)
        assert entry.raw(14) == b"newel member 1"
        entry.raw(32 + 8)
        entry.list(lambda: entry.raw(32))
        kind = entry.raw(1)[0]
        if kind == 0:
            entry.raw(1 + 16)
            members.add(newcomer(entry))
        elif kind == 1:
            entry.raw(8), entry.part()
        elif kind == 2:
            entry.raw(8)
            members.add(newcomer(entry))
        for key_id, device, fresh, sealed in entry.list(lambda: (entry.raw(8), entry.raw(32), entry.raw(32), entry.raw(48))):
            if device != own:
                continue
            shared = receive.exchange(X25519PublicKey.from_public_bytes(fresh))
            mine = receive.public_key().public_bytes(*RAW)
            key = AESSIV(derive(shared, fresh + mine, 64, b"newel wrap 1")).decrypt(sealed, [device])
            teams[key_id] = Team(key)
            assert teams[key_id].id == key_id

    def open_object(name):
        sealed = read("objects", name.hex()[:2], name.hex())
        team = teams[sealed[1:9]]
        plain = team.open(b"object", b"", sealed)
        assert team.name(plain) == name
        return plain

    newest = {}
    for name in os.listdir(os.path.join(folder, "heads")):
        device, number = name.split(".")
        if number.isdigit() and bytes.fromhex(device) in members:
            newest[device] = max(newest.get(device, 0), int(number))
    for device, number in sorted(newest.items()):
        path = f"heads/{device}.{number}"
        sealed = read(*path.split("/"))
        head = signed(bytes.fromhex(device), teams[sealed[1:9]].open(b"head", path.encode(), sealed))
        assert head.raw(12) == b"newel head 1" and head.raw(32).hex() == device and head.number() == number
        head.raw(8)
        head.list(lambda: head.raw(32))
        packs = head.list(lambda: (head.raw(32), head.number(), head.number(), head.number()))
        position = 0
        for name, many, size, _merged in packs:
            assert os.path.getsize(os.path.join(folder, "objects", name.hex()[:2], name.hex())) == size
            pack = Bytes(open_object(name))
            assert pack.raw(1) == b"P" and pack.raw(32).hex() == device and pack.number() == position
            assert pack.number() == many
            for _ in range(many):
                if pack.raw(1) == b"\0":
                    digest = hashlib.sha256(pack.part()).hexdigest()
                else:
                    pack.raw(1)
                    expected, length = pack.raw(32), pack.number()
                    blob = b"".join(open_object(block)[1:] for block in pack.list(lambda: pack.raw(32)))
                    assert len(blob) == length and hashlib.sha256(blob).digest() == expected
                    digest = expected.hex()
                print(device, position, digest)
                position += 1


main(sys.argv[1], bytes.fromhex(sys.argv[2]))
