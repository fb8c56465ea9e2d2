//! Whole numbers from a seed, the same on every machine.
//!
//! The generator is `ChaCha20` with a counter and a stream of 64 bits. The key is the seed in eight bytes, the
//! least first, and the code of the kind, filled up with zeros. The last two bytes of the key are the number of the
//! level and that of the version, which is zero for the first. The stream is the place of the problem in its set.
//!
//! A whole number below a limit is drawn by multiplication with rejection, so that all are equally likely (D. Lemire, ACM Trans. Model. Comput. Simul. 2019, 29, 3, doi:10.1145/3230636).

use chacha20::ChaCha20Rng;
use chacha20::rand_core::{Rng, SeedableRng};

/// The length of the key of `ChaCha20`.
const KEY_BYTES: usize = 32;

/// The seed in eight bytes, the least first, and some bytes, filled up with zeros.
fn key(seed: u64, bytes: &[u8]) -> [u8; KEY_BYTES] {
    let mut key = [0; KEY_BYTES];
    let bytes = seed.to_le_bytes().into_iter().chain(bytes.iter().copied());
    for (slot, byte) in key.iter_mut().zip(bytes) {
        *slot = byte;
    }
    key
}

/// The seed of a code: the first 64 bits of the generator. The key is the seed and the first 22 bytes of the code,
/// filled up with zeros, and its last byte is 255, which no version has. The stream is the number of bytes of the
/// whole code. A longer code goes on with the seed so far and its next 22 bytes.
pub(super) fn seed_of_code(seed: u64, code: &str) -> u64 {
    let parts = code.as_bytes().chunks(KEY_BYTES - 10);
    parts.fold(seed, |seed, part| {
        let mut key = key(seed, part);
        key[KEY_BYTES - 1] = u8::MAX;
        Sampler::with_key(key, code.len() as u64).0.next_u64()
    })
}

/// A source of whole numbers for one problem.
pub(super) struct Sampler(ChaCha20Rng);

impl Sampler {
    /// `level` is zero for the draw of the level itself.
    pub(super) fn new(seed: u64, kind: &str, level: u8, place: u64, version: u8) -> Sampler {
        let mut key = key(seed, kind.as_bytes());
        key[KEY_BYTES - 2] = level;
        key[KEY_BYTES - 1] = version;
        Sampler::with_key(key, place)
    }

    fn with_key(key: [u8; KEY_BYTES], stream: u64) -> Sampler {
        let mut generator = ChaCha20Rng::from_seed(key);
        generator.set_stream(stream);
        Sampler(generator)
    }

    /// A whole number from zero to below the limit; zero if the limit is zero.
    pub(super) fn below(&mut self, limit: u32) -> u32 {
        let mut draw = || u64::from(self.0.next_u32()) * u64::from(limit);
        let mut product = draw();
        if (product as u32) < limit {
            let rejected = limit.wrapping_neg() % limit;
            while (product as u32) < rejected {
                product = draw();
            }
        }
        (product >> 32) as u32
    }

    /// A whole number from the first to the last; the first if there is none between them.
    pub(super) fn between(&mut self, first: i64, last: i64) -> i64 {
        let count = last.saturating_sub(first).saturating_add(1);
        let count = u32::try_from(count.max(1)).unwrap_or(u32::MAX);
        first.saturating_add(i64::from(self.below(count)))
    }

    /// One of the items, all equally likely; `None` if there are none.
    pub(super) fn one_of<'t, T>(&mut self, items: &'t [T]) -> Option<&'t T> {
        let count = u32::try_from(items.len()).unwrap_or(u32::MAX);
        items.get(self.below(count) as usize)
    }

    /// Puts the items in a random order (Fisher and Yates).
    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = self.below(u32::try_from(last + 1).unwrap_or(u32::MAX)) as usize;
            items.swap(last, other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first block of the key of 32 zeros, with the counter and the nonce at zero: RFC 8439, A.1, test
    /// vector 1.
    #[test]
    fn the_generator_is_chacha20() {
        let mut sampler = Sampler::new(0, "", 0, 0, 0);
        let block: [u32; 16] = core::array::from_fn(|_| sampler.0.next_u32());
        let published = [
            0xade0_b876_u32,
            0x903d_f1a0,
            0xe56a_5d40,
            0x28bd_8653,
            0xb819_d2bd,
            0x1aed_8da0,
            0xccef_36a8,
            0xc70d_778b,
            0x7c59_41da,
            0x8d48_5751,
            0x3fe0_2477,
            0x374a_d8b8,
            0xf4b8_436a,
            0x1ca1_1815,
            0x69b6_87c3,
            0x8665_eeb2,
        ];
        assert_eq!(block, published);
    }

    #[test]
    fn whole_numbers_below_a_limit_are_equally_likely() {
        let mut sampler = Sampler::new(1, "test", 0, 0, 0);
        let mut counts = [0_u32; 6];
        for _ in 0..60_000 {
            counts[sampler.below(6) as usize] += 1;
        }
        // Five standard deviations of a binomial count, √(60000·5/36).
        assert!(
            counts.iter().all(|n| n.abs_diff(10_000) < 457),
            "{counts:?}"
        );
        assert_eq!(sampler.below(0), 0);
        assert_eq!(sampler.one_of::<u8>(&[]), None);
        assert_eq!(sampler.between(4, 4), 4);
        assert_eq!(sampler.between(4, 3), 4);
    }

    #[test]
    fn seed_kind_level_place_version_and_code_give_other_numbers() {
        let first = |seed, kind, level, place, version| {
            Sampler::new(seed, kind, level, place, version).0.next_u64()
        };
        let long = "a code of more than twenty-two bytes";
        let all = [
            first(1, "a", 0, 0, 0),
            first(2, "a", 0, 0, 0),
            first(1, "b", 0, 0, 0),
            first(1, "a", 1, 0, 0),
            first(1, "a", 0, 1, 0),
            first(1, "a", 0, 0, 1),
            first(1, "a", 0, 1, 1),
            seed_of_code(1, "a"),
            seed_of_code(2, "a"),
            seed_of_code(1, "a\0"),
            seed_of_code(1, long),
            seed_of_code(1, &long[..22]),
        ];
        for (index, one) in all.iter().enumerate() {
            assert!(!all[..index].contains(one));
        }
        let mut items = [1, 2, 3, 4];
        Sampler::new(1, "a", 0, 0, 0).shuffle(&mut items);
        let mut sorted = items;
        sorted.sort_unstable();
        assert_eq!(sorted, [1, 2, 3, 4]);
    }
}
