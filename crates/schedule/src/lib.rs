//! Activities with hands, lags, windows and calendars to start times and a bound.
