//! Pages: forms in, HTML out.
