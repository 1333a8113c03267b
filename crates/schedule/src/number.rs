//! The few conversions between machine integers that the solver needs, each with the reason it cannot go wrong.

/// A count or index as a time: problems have far fewer than 2^62 of anything.
pub(crate) fn minutes(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}

/// A time known to be within the table it indexes; negative ones index its beginning.
#[inline]
pub(crate) fn index(minute: i64) -> usize {
    usize::try_from(minute).unwrap_or(0)
}

/// A problem's index in the four bytes the hot loops keep it in.
#[inline]
pub(crate) fn small(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}

/// The first multiple of `grid` not before `minute`.
#[inline]
pub(crate) fn up_to_grid(minute: i64, grid: i64) -> i64 {
    if grid <= 1 {
        minute
    } else {
        minute + (-minute).rem_euclid(grid)
    }
}
