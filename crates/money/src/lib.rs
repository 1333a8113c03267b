//! Cost, quote, payback, learned rates and the cans to buy.
