//! Draws the photographs of the demonstration collection and says what each truly shows.

pub mod camera;
pub mod deeds;
pub mod details;
pub mod edges;
pub mod ground;
pub mod half_mark;
pub mod letters;
pub mod light;
pub mod numbers;
pub mod picture;
pub mod relief;
pub mod scenes;
pub mod shape;
pub mod truth;
pub mod two_mark;
pub mod whole;
