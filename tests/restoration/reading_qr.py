"""A QR code read back from its modules, by the rules of ISO/IEC 18004 and none of the code that
drew it. Without correction: what is printed cleanly must read cleanly. From memory: the places of
the format bits, the masks, the zigzag, and the blocks of level M up to version 10."""

FORMAT_MASK = 0b101010000010010
MASKS = (
    lambda r, c: (r + c) % 2 == 0,
    lambda r, c: r % 2 == 0,
    lambda r, c: c % 3 == 0,
    lambda r, c: (r + c) % 3 == 0,
    lambda r, c: (r // 2 + c // 3) % 2 == 0,
    lambda r, c: r * c % 2 + r * c % 3 == 0,
    lambda r, c: (r * c % 2 + r * c % 3) % 2 == 0,
    lambda r, c: ((r + c) % 2 + r * c % 3) % 2 == 0,
)
# Level M, by version: data words of each block.
BLOCKS = {
    1: [16], 2: [28], 3: [44], 4: [32] * 2, 5: [43] * 2, 6: [27] * 4, 7: [31] * 4,
    8: [38] * 2 + [39] * 2, 9: [36] * 3 + [37] * 2, 10: [43] * 4 + [44],
}  # fmt: skip
ALIGNED = {
    1: [], 2: [6, 18], 3: [6, 22], 4: [6, 26], 5: [6, 30], 6: [6, 34], 7: [6, 22, 38],
    8: [6, 24, 42], 9: [6, 26, 46], 10: [6, 28, 50],
}  # fmt: skip
LEVEL_M = 0b00


def read(rows):
    """The text of a square of modules, True for dark."""
    size = len(rows)
    version = (size - 17) // 4
    level, mask = _format(rows)
    assert level == LEVEL_M
    words = _words(rows, version, MASKS[mask])
    return _text(_in_order(words, BLOCKS[version]), version)


def _format(rows):
    """Level and mask, from the 15 bits round the top left finder."""
    places = [(8, c) for c in (0, 1, 2, 3, 4, 5, 7, 8)] + [(r, 8) for r in (7, 5, 4, 3, 2, 1, 0)]
    value = 0
    for r, c in places:
        value = value << 1 | rows[r][c]
    value ^= FORMAT_MASK
    return value >> 13, value >> 10 & 0b111


def _is_data(r, c, size, version):
    if (r < 9 and c < 9) or (r < 9 and c >= size - 8) or (r >= size - 8 and c < 9):
        return False
    if 6 in (r, c):
        return False
    last = size - 7
    for y in ALIGNED[version]:
        for x in ALIGNED[version]:
            corner = (y, x) in ((6, 6), (6, last), (last, 6))
            if not corner and abs(r - y) <= 2 and abs(c - x) <= 2:
                return False
    if version >= 7:
        return not ((r < 6 and size - 11 <= c < size - 8) or (c < 6 and size - 11 <= r < size - 8))
    return True


def _words(rows, version, mask):
    """Up and down in pairs of columns from the right, the upright timing line left out."""
    size, bits, up, right = len(rows), [], True, len(rows) - 1
    while right > 0:
        if right == 6:
            right -= 1
        for step in range(size):
            r = size - 1 - step if up else step
            for c in (right, right - 1):
                if _is_data(r, c, size, version):
                    bits.append(rows[r][c] ^ mask(r, c))
        right, up = right - 2, not up
    return [int("".join(str(int(b)) for b in bits[n : n + 8]), 2) for n in range(0, len(bits), 8)]


def _in_order(words, blocks):
    found = [[] for _ in blocks]
    at = 0
    for n in range(max(blocks)):
        for block, size in zip(found, blocks, strict=True):
            if n < size:
                block.append(words[at])
                at += 1
    return [word for block in found for word in block]


def _text(words, version):
    bits = "".join(f"{word:08b}" for word in words)
    assert bits[:4] == "0100", "not written as bytes"
    counted = 8 if version < 10 else 16
    count = int(bits[4 : 4 + counted], 2)
    start = 4 + counted
    octets = [int(bits[start + 8 * n : start + 8 * n + 8], 2) for n in range(count)]
    return bytes(octets).decode()
