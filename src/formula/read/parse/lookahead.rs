//! What a byte of a text may be to a term and its count.

/// The byte at an offset, which is zero after the end, and its class.
#[derive(Clone, Copy)]
pub(crate) struct Lookahead {
    /// As wide as a register: the compiler would pack two bytes into one word, and take them apart again.
    pub(crate) byte: usize,
    pub(crate) class: ByteClass,
}

impl Lookahead {
    #[inline(always)]
    pub(crate) fn at(bytes: &[u8], at: usize) -> Lookahead {
        let byte = bytes.get(at).copied().unwrap_or_default().into();
        let class = BYTE_CLASSES.get(byte).copied().unwrap_or(ByteClass::OTHER);
        Lookahead { byte, class }
    }

    pub(crate) fn byte(self) -> u8 {
        self.byte as u8
    }
}

/// The class of a byte in a term or its count. The last two may belong to a count.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct ByteClass(u8);

impl ByteClass {
    const OTHER: ByteClass = ByteClass(0);
    pub(crate) const CAPITAL: ByteClass = ByteClass(1);
    pub(crate) const OPENS: ByteClass = ByteClass(2);
    pub(crate) const CLOSES: ByteClass = ByteClass(3);
    pub(crate) const DIGIT: ByteClass = ByteClass(4);
    /// Neither a digit nor a letter, and may belong to a count.
    const MAY_BE_COUNT: ByteClass = ByteClass(5);
    /// A small letter, which may be an unknown count.
    const SMALL: ByteClass = ByteClass(6);

    #[inline(always)]
    pub(crate) const fn is_small(self) -> bool {
        self.0 >= ByteClass::SMALL.0
    }

    #[inline(always)]
    pub(crate) const fn may_be_count(self) -> bool {
        self.0 >= ByteClass::MAY_BE_COUNT.0
    }

    /// Whether a group may begin with such a byte. Neither a label nor a charge does.
    #[inline(always)]
    pub(crate) const fn begins_group(self) -> bool {
        matches!(self, ByteClass::CAPITAL | ByteClass::OPENS)
    }
}

#[allow(clippy::indexing_slicing, reason = "evaluated when it is compiled")]
static BYTE_CLASSES: [ByteClass; 256] = {
    let mut table = [ByteClass::OTHER; 256];
    let mut byte = 0;
    while byte < 256 {
        table[byte] = match byte as u8 {
            b'A'..=b'Z' => ByteClass::CAPITAL,
            b'(' | b'[' | b'{' => ByteClass::OPENS,
            b')' | b']' | b'}' => ByteClass::CLOSES,
            b'0'..=b'9' => ByteClass::DIGIT,
            b'a'..=b'z' => ByteClass::SMALL,
            b'.' | b'/' | b'_' | 0x80.. => ByteClass::MAY_BE_COUNT,
            _ => ByteClass::OTHER,
        };
        byte += 1;
    }
    table
};
