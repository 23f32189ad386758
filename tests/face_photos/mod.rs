//! Photos of fracture faces: the way from what was measured to an answer.

mod answers;
mod told;
