//! Byte offset → line and column, both from 1. Columns count characters.

/// Where the lines of one text begin.
#[derive(Clone, Debug, Default)]
pub struct LineIndex {
    starts: Vec<usize>,
}

impl LineIndex {
    pub fn new(text: &str) -> LineIndex {
        let mut starts = vec![0];
        starts.extend(text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1));
        LineIndex { starts }
    }

    /// Line and column of a byte offset; an offset past the end is the end.
    pub fn position(&self, text: &str, offset: usize) -> (usize, usize) {
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.starts.partition_point(|start| *start <= offset).max(1);
        let column = text[self.starts[line - 1]..offset].chars().count() + 1;
        (line, column)
    }

    /// The text of a line (from 1), without its end.
    pub fn line<'t>(&self, text: &'t str, line: usize) -> &'t str {
        let Some(start) = self.starts.get(line.wrapping_sub(1)).copied() else { return "" };
        let end = self.starts.get(line).map_or(text.len(), |next| next - 1);
        text[start..end.max(start)].trim_end_matches('\r')
    }
}

#[cfg(test)]
mod tests {
    use super::LineIndex;

    #[test]
    fn positions_count_characters_from_one() {
        let text = "ab\né=1\n";
        let lines = LineIndex::new(text);
        assert_eq!(lines.position(text, 0), (1, 1));
        assert_eq!(lines.position(text, 3), (2, 1));
        assert_eq!(lines.position(text, 5), (2, 2));
        assert_eq!(lines.position(text, 99), (3, 1));
        assert_eq!(lines.line(text, 2), "é=1");
    }
}
