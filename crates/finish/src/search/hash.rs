//! A plain multiplicative hash: states are hashed often, and nobody attacks them.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

/// A map by states.
pub(super) type StateMap<K, V> = HashMap<K, V, BuildHasherDefault<StateHasher>>;

#[derive(Default)]
pub(super) struct StateHasher(u64);

impl Hasher for StateHasher {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0u8; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.mix(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, byte: u8) {
        self.mix(u64::from(byte));
    }

    fn write_u16(&mut self, word: u16) {
        self.mix(u64::from(word));
    }

    fn write_u32(&mut self, word: u32) {
        self.mix(u64::from(word));
    }

    fn write_isize(&mut self, word: isize) {
        self.mix(word.cast_unsigned() as u64);
    }
}

impl StateHasher {
    const fn mix(&mut self, word: u64) {
        self.0 = (self.0.rotate_left(5) ^ word).wrapping_mul(0x517c_c1b7_2722_0a95);
    }
}
