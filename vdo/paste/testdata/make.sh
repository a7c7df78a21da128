#!/bin/bash
# Makes the samples in forms/ that general tools can print: xxd, hexdump, od,
# base64, python3 and jq. The other samples are written by hand. All values are
# invented; the CRCs are python's zlib.crc32, not ours.
set -euo pipefail
cd "$(dirname "$0")/forms"
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

# The passive cable of the tests as it goes over the wire: header 518F, five
# objects; and the same with its CRC.
echo 8f5141a000ffa12f6018000000000001020143260a00 | xxd -r -p >"$work/m"
python3 -c 'import sys, zlib; b = sys.stdin.buffer.read(); sys.stdout.buffer.write(b + zlib.crc32(b).to_bytes(4, "little"))' <"$work/m" >"$work/c"
cd "$work"
out=$OLDPWD
xxd m            >"$out/dump-xxd.txt"
xxd -g1 c        >"$out/dump-xxd-g1-crc.txt"
xxd -g4 m        >"$out/dump-xxd-g4.txt"
xxd -e m         >"$out/dump-xxd-host-order.txt"
xxd -p c         >"$out/run-xxd-plain-crc.txt"
xxd -i m         >"$out/arrays-xxd-include.txt"
hexdump -C c     >"$out/dump-hexdump-canonical.txt"
hexdump m        >"$out/dump-hexdump.txt"
od -t x1 m       >"$out/dump-od-octal.txt"
od -A x -t x1z c >"$out/dump-od-hex-characters.txt"
od -A d -t x2 m  >"$out/dump-od-decimal-host-order.txt"
od -t x4 m       >"$out/dump-od-words.txt"
od -A n -t x1 m  >"$out/bytes-od.txt"
od -A n -t x2 m  >"$out/bytes-od-host-order.txt"
od -A n -t x4 m  >"$out/words-od-host-order.txt"
base64 c         >"$out/base64.txt"
python3 -c 'print(open("m", "rb").read())'                        >"$out/escapes-python.txt"
python3 -c 'print("".join(f"\\x{b:02x}" for b in open("c", "rb").read()))' >"$out/escapes-shell.txt"
python3 -c 'print(open("m", "rb").read().hex(" "))'               >"$out/bytes-python.txt"
python3 -c 'print(open("m", "rb").read().hex(":"))'               >"$out/bytes-colons.txt"
python3 -c 'print([hex(b) for b in open("m", "rb").read()])'      >"$out/bytes-python-list.txt"
python3 -c 'import json; print(json.dumps(list(open("m", "rb").read())))' >"$out/json-bytes.txt"
python3 -c '
import struct; w = struct.unpack("<5I", open("m", "rb").read()[2:])
print("vdos =", [hex(x) for x in w])'                             | tr -d "'" >"$out/arrays-python-words.txt"
python3 -c '
import json, struct; w = struct.unpack("<5I", open("m", "rb").read()[2:])
print(json.dumps({"time": 1.25, "sop": "SOP\u0027", "vdo": w}, indent=2))'   >"$out/json-decimal-words.txt"
python3 -c '
import json, struct; w = struct.unpack("<5i", open("m", "rb").read()[2:])
print(json.dumps(w))'                                             >"$out/json-signed-words.txt"
jq -n -c '{sop: "SOP'\''", header: "518F", objects: ["FF00A041", "18602FA1", "00000000", "01020100", "000A2643"], crc: $c}' \
    --arg c "$(python3 -c 'import zlib; print("%08X" % zlib.crc32(open("m", "rb").read()))')" >"$out/json-frame.txt"
