//! Take-off: furniture forms to surfaces, areas and the line drawing.
