//! A patch of field, 150 by 44, as its finish or its faults look.

use super::drawing::{Half, Pair};
use crate::entry::Form;

pub(super) fn pair(genuine: &Form, not_genuine: &Form) -> Pair {
    let half = |form: &Form| Half { svg: patch(form.word), lines: Vec::new(), said: Vec::new() };
    Pair { height: 44.0, scale: "", genuine: half(genuine), not_genuine: half(not_genuine), also: String::new() }
}

fn patch(form: &str) -> String {
    let inside = match form {
        "flow-lines" => {
            "<path class=\"fine\" d=\"M20 38L8 6M39 38L32 6M58 38L55 6M75 38V6M92 38L95 6M111 38L118 6M130 38L142 6\"/>"
        }
        "granular" => {
            "<path class=\"dots\" d=\"M10 12h0m9 18h0m8-21h0m6 13h0m8 13h0m5-22h0m8 14h0m7-19h0m5 28h0m6-16h0m7 10h0m6-19h0m7 13h0m6 11h0m6-20h0m6 13h0m7-19h0m5 27h0m6-16h0m6 10h0m6-17h0m3 23h0\"/><path class=\"dots small\" d=\"M14 21h0m10 13h0m14-20h0m10 15h0m16-12h0m8 15h0m14-14h0m10-10h0m12 10h0m10 11h0m16-8h0\"/>"
        }
        "pits" => {
            "<path class=\"fine\" d=\"M22 16a5 4 0 1 0 10 0a5 4 0 1 0-10 0m40 12a7 5 0 1 0 14 0a7 5 0 1 0-14 0m42-14a4 4 0 1 0 8 0a4 4 0 1 0-8 0m18 16a5 4 0 1 0 10 0a5 4 0 1 0-10 0\"/>"
        }
        "lumps" => "<path class=\"stroke\" d=\"M20 18c2-8 12-8 14 0m32 14c2-9 15-9 17 0m25-15c2-7 10-7 12 0\"/>",
        "scratches" => {
            "<path class=\"fine\" d=\"M8 34L70 8M14 38L76 12M50 36L112 10M60 38L120 14M84 37L144 12M20 26L60 10\"/>"
        }
        _ => "",
    };
    format!("<path class=\"fine\" d=\"M2 3H148V41H2Z\"/>{inside}")
}
