//! Moist air, wood moisture, drying clocks and application windows.
