//! Smaller pictures by averaging areas. Each pixel is the mean of what it covers, in whole numbers: the same on every
//! machine, and without the bright and dark borders of sharper methods, which an examiner could take for a seam.

/// Pixels in rows from the top, `channels` bytes each: 1 grey, 3 colours, or 4 with transparency.
pub(super) struct Pixels {
    pub width: u32,
    pub height: u32,
    pub channels: usize,
    pub data: Vec<u8>,
}

impl Pixels {
    /// The same picture, `width` by `height` pixels; neither may be larger than it is.
    pub fn scaled(&self, width: u32, height: u32) -> Pixels {
        let data = match self.channels {
            1 => self.averaged::<1>(width, height, |pixel| [u32::from(pixel[0])], |sum, area| [mean(sum[0], area)]),
            3 => self.averaged::<3>(
                width,
                height,
                |pixel| [u32::from(pixel[0]), u32::from(pixel[1]), u32::from(pixel[2])],
                |sum, area| sum.map(|one| mean(one, area)),
            ),
            // A colour counts as much as it covers: what cannot be seen tints nothing.
            _ => self.averaged::<4>(
                width,
                height,
                |pixel| {
                    let cover = u32::from(pixel[3]);
                    [u32::from(pixel[0]) * cover, u32::from(pixel[1]) * cover, u32::from(pixel[2]) * cover, cover]
                },
                |[r, g, b, cover], area| {
                    let shade = |sum| if cover == 0 { 0 } else { mean(sum, cover) };
                    [shade(r), shade(g), shade(b), mean(cover, area)]
                },
            ),
        };
        Pixels { width, height, channels: self.channels, data }
    }

    fn averaged<const N: usize>(
        &self,
        width: u32,
        height: u32,
        weigh: impl Fn(&[u8; N]) -> [u32; N],
        settle: impl Fn([u64; N], u64) -> [u8; N],
    ) -> Vec<u8> {
        let (across, down) = (spans(self.width, width), spans(self.height, height));
        let area = u64::from(self.width) * u64::from(self.height);
        let (rows, _) = self.data.as_chunks::<N>();
        let mut out = Vec::with_capacity(width as usize * height as usize * N);
        let mut row = vec![[0u64; N]; width as usize];
        for tall in &down {
            row.fill([0; N]);
            for (line, share) in tall.clone().parts() {
                let from = line as usize * self.width as usize;
                let line = &rows[from..from + self.width as usize];
                for (cell, wide) in row.iter_mut().zip(&across) {
                    let mut sum = [0u64; N];
                    for (at, part) in wide.clone().parts() {
                        let weighed = weigh(&line[at as usize]);
                        for channel in 0..N {
                            sum[channel] += u64::from(weighed[channel]) * u64::from(part);
                        }
                    }
                    for channel in 0..N {
                        cell[channel] += sum[channel] * u64::from(share);
                    }
                }
            }
            out.extend(row.iter().flat_map(|cell| settle(*cell, area)));
        }
        out
    }

    /// The part from `x`, `y` on.
    pub fn cut(&self, x: u32, y: u32, width: u32, height: u32) -> Pixels {
        let line = |row: u32| {
            let from = (row as usize * self.width as usize + x as usize) * self.channels;
            &self.data[from..from + width as usize * self.channels]
        };
        let data = (y..y + height).flat_map(line).copied().collect();
        Pixels { width, height, channels: self.channels, data }
    }
}

fn mean(sum: u64, of: u64) -> u8 {
    ((sum + of / 2) / of) as u8
}

/// What one new pixel covers of a line: old pixels `first..=last`, the outer two in part.
#[derive(Clone)]
struct Span {
    first: u32,
    last: u32,
    /// Shares of the first, of each between, and of the last.
    head: u32,
    whole: u32,
    tail: u32,
}

impl Span {
    /// Each old pixel with its share; the shares add up to the length of the line.
    fn parts(self) -> impl Iterator<Item = (u32, u32)> {
        (self.first..=self.last).map(move |at| {
            let share = if at == self.first {
                self.head
            } else if at == self.last {
                self.tail
            } else {
                self.whole
            };
            (at, share)
        })
    }
}

/// A line of `old` pixels laid under one of `new`, both cut into `old` × `new` equal steps.
fn spans(old: u32, new: u32) -> Vec<Span> {
    let (old, new) = (u64::from(old), u64::from(new));
    (0..new)
        .map(|at| {
            let (from, to) = (at * old, (at + 1) * old);
            let (first, last) = (from / new, (to - 1) / new);
            let head = ((first + 1) * new).min(to) - from;
            Span {
                first: first as u32,
                last: last as u32,
                head: head as u32,
                whole: new as u32,
                tail: (to - last * new) as u32,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::{Pixels, spans};

    fn grey(width: u32, height: u32, data: &[u8]) -> Pixels {
        Pixels { width, height, channels: 1, data: data.to_vec() }
    }

    #[test]
    fn shares_add_up_to_the_line() {
        for (old, new) in [(7, 3), (4032, 1200), (5, 5), (9, 1), (8, 4)] {
            for span in spans(old, new) {
                let sum: u32 = span.parts().map(|(_, share)| share).sum();
                assert_eq!(sum, old, "{old} to {new}");
            }
        }
    }

    /// Reckoned by hand: three pixels into two cover one and a half each.
    #[test]
    fn a_pixel_is_the_mean_of_what_it_covers() {
        assert_eq!(grey(3, 1, &[30, 60, 90]).scaled(2, 1).data, [40, 80]);
        assert_eq!(grey(2, 2, &[0, 100, 200, 100]).scaled(1, 1).data, [100]);
        assert_eq!(grey(1, 3, &[30, 60, 90]).scaled(1, 2).data, [40, 80]);
        assert_eq!(grey(2, 1, &[7, 9]).scaled(2, 1).data, [7, 9]);
    }

    #[test]
    fn what_cannot_be_seen_tints_nothing() {
        let pixels = Pixels { width: 2, height: 1, channels: 4, data: vec![200, 10, 30, 255, 0, 0, 0, 0] };
        assert_eq!(pixels.scaled(1, 1).data, [200, 10, 30, 128]);
    }

    #[test]
    fn a_part_is_cut_out_row_by_row() {
        let pixels = grey(3, 3, &[1, 2, 3, 4, 5, 6, 7, 8, 9]);
        assert_eq!(pixels.cut(1, 1, 2, 2).data, [5, 6, 8, 9]);
    }
}
