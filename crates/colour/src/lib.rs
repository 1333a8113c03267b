//! Colour: difference, hiding, mixing and preview.
