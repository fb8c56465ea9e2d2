//! What a byte of a text may be to a term and its count.

/// The byte at a place, nought behind the end, and what it is.
#[derive(Clone, Copy)]
pub(crate) struct Lookahead {
    /// As wide as a register.
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

/// What a byte is to a term and its count. (The last two may go on with a count.)
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct ByteClass(u8);

impl ByteClass {
    const OTHER: ByteClass = ByteClass(0);
    pub(crate) const CAPITAL: ByteClass = ByteClass(1);
    pub(crate) const OPENS: ByteClass = ByteClass(2);
    pub(crate) const CLOSES: ByteClass = ByteClass(3);
    pub(crate) const DIGIT: ByteClass = ByteClass(4);
    /// Neither digit nor letter, which may go on with a count.
    const GOES_ON: ByteClass = ByteClass(5);
    /// A small letter, which may be a count left open.
    const SMALL: ByteClass = ByteClass(6);

    #[inline(always)]
    pub(crate) const fn is_small(self) -> bool {
        self.0 >= ByteClass::SMALL.0
    }

    #[inline(always)]
    pub(crate) const fn goes_on(self) -> bool {
        self.0 >= ByteClass::GOES_ON.0
    }

    /// Whether a group begins with such a byte: neither a label nor a charge does.
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
            b'.' | b'/' | b'_' | 0x80.. => ByteClass::GOES_ON,
            _ => ByteClass::OTHER,
        };
        byte += 1;
    }
    table
};
