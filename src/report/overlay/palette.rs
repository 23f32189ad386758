//! Colours of what is drawn over photos.

/// A colour as a screen takes it: sRGB red, green, blue, 0 to 255.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Colour(pub(super) [u8; 3]);

// Source of the next four: M. Okabe and K. Ito, "Color Universal Design (CUD): How to make figures and
// presentations that are friendly to colorblind people", 2008, palette of eight. Sparks are white to red, so its
// orange is left out.

/// Carriers.
pub(super) const SKY_BLUE: Colour = Colour([86, 180, 233]);
/// Bursts.
pub(super) const YELLOW: Colour = Colour([240, 228, 66]);
/// Ends that are no ends, and refusals.
pub(super) const VERMILLION: Colour = Colour([213, 94, 0]);
/// The wheel's contact and the stream.
pub(super) const PURPLE: Colour = Colour([204, 121, 167]);

/// Every other carrier: sky blue, six parts in ten of the way to white (judgement: lighter, and still blue).
pub(super) const PALE_BLUE: Colour = Colour([187, 225, 246]);
/// Hatching, and text.
pub(super) const WHITE: Colour = Colour([240, 240, 240]);
/// Behind text, and around every line.
pub(super) const INK: Colour = Colour([16, 16, 16]);

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: IEC 61966-2-1:1999 (sRGB); W3C, WCAG 2.2 (2023), "relative luminance".
    fn linear(colour: Colour) -> [f64; 3] {
        colour.0.map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.040_45 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        })
    }

    fn times(matrix: &[[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
        matrix.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
    }

    /// W3C, WCAG 2.2 (2023), "contrast ratio": (L1 + 0.05) / (L2 + 0.05), the lighter one above.
    fn contrast(a: Colour, b: Colour) -> f64 {
        let luminance = |c| {
            let [r, g, b] = linear(c);
            0.2126 * r + 0.7152 * g + 0.0722 * b
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// CIE 1976 L*a*b* of linear sRGB, white D65. Source: CIE 15:2004; matrix of IEC 61966-2-1:1999.
    fn lab(rgb: [f64; 3]) -> [f64; 3] {
        const XYZ: [[f64; 3]; 3] =
            [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
        let [x, y, z] = times(&XYZ, rgb);
        let f = |t: f64| {
            if t > (6.0_f64 / 29.0).powi(3) {
                t.cbrt()
            } else {
                t / (3.0 * (6.0_f64 / 29.0).powi(2)) + 4.0 / 29.0
            }
        };
        let [x, y, z] = [f(x / 0.9505), f(y), f(z / 1.089)];
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    #[derive(Debug, Clone, Copy)]
    enum Eyes {
        Usual,
        Protanope,
        Deuteranope,
    }

    /// What dichromats see. Source: F. Viénot, H. Brettel and J. D. Mollon, "Digital video colourmaps for
    /// checking the legibility of displays by dichromats", Color Research & Application 24 (1999) 243-252,
    /// equations 4 to 6, without the small fit into the gamut of step 2; sRGB in place of a gamma of 2.2.
    fn seen(colour: Colour, eyes: Eyes) -> [f64; 3] {
        const LMS: [[f64; 3]; 3] =
            [[17.8824, 43.5161, 4.11935], [3.45565, 27.1554, 3.86714], [0.029_956_6, 0.184_309, 1.46709]];
        let [l, m, s] = times(&LMS, linear(colour));
        let lms = match eyes {
            Eyes::Usual => [l, m, s],
            Eyes::Protanope => [2.02344 * m - 2.52581 * s, m, s],
            Eyes::Deuteranope => [l, 0.494_207 * l + 1.24827 * s, s],
        };
        times(&inverse(&LMS), lms).map(|v| v.clamp(0.0, 1.0))
    }

    fn inverse(m: &[[f64; 3]; 3]) -> [[f64; 3]; 3] {
        let minor = |r: usize, c: usize| {
            let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
            m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1]
        };
        let determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
        std::array::from_fn(|r| std::array::from_fn(|c| minor(c, r) / determinant))
    }

    /// WCAG 2.2, success criterion 1.4.3: 4.5 to 1 for text. Every text here is one of these on ink.
    #[test]
    fn text_stands_out() {
        assert!((contrast(Colour([255; 3]), Colour([0; 3])) - 21.0).abs() < 1e-9, "WCAG: 21 to 1 at most");
        for text in [WHITE, YELLOW] {
            assert!(contrast(text, INK) >= 4.5, "{text:?}");
        }
    }

    /// WCAG 2.2, success criterion 1.4.11: 3 to 1 for parts of pictures. Every line is bordered with ink.
    #[test]
    fn lines_stand_out() {
        for line in [SKY_BLUE, PALE_BLUE, YELLOW, VERMILLION, PURPLE, WHITE] {
            assert!(contrast(line, INK) >= 3.0, "{line:?}");
        }
    }

    /// Colours of different meaning stay 20 apart in CIE 1976 colour difference for usual and for dichromatic
    /// eyes: nine times the 2.3 that is just noticed (M. Mahy, L. Van Eycken and A. Oosterlinck, Color Research &
    /// Application 19 (1994) 105-121). Nine is a judgement.
    #[test]
    fn colours_stay_apart() {
        let marks = [SKY_BLUE, YELLOW, VERMILLION, PURPLE, WHITE];
        for eyes in [Eyes::Usual, Eyes::Protanope, Eyes::Deuteranope] {
            for (i, a) in marks.iter().enumerate() {
                for b in &marks[..i] {
                    let [a1, b1] = [a, b].map(|c| lab(seen(*c, eyes)));
                    let apart = (0..3).map(|k| (a1[k] - b1[k]).powi(2)).sum::<f64>().sqrt();
                    assert!(apart >= 20.0, "{eyes:?}: {a:?} and {b:?} are {apart:.1} apart");
                }
            }
        }
    }

    /// Neighbours are told apart without colour: 10 in CIE 1976 lightness (judgement: four times what is noticed).
    #[test]
    fn neighbours_differ_in_grey() {
        let [a, b] = [SKY_BLUE, PALE_BLUE].map(|c| lab(linear(c))[0]);
        assert!(b - a >= 10.0, "{a:.1} and {b:.1}");
    }
}
