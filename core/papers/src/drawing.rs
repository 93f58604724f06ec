//! A drawing on paper, in millimetres from its upper left corner, without knowledge of any file format.

/// What a colour means; the paper gives each meaning one colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ink {
    /// Words and outlines of what is there.
    Existing,
    /// The body of what is there.
    Steel,
    /// A fainter body: posts.
    Pale,
    /// Remarks.
    Soft,
    /// What we do to the rail: holes and running dimensions.
    Deed,
    /// Electricity.
    Power,
    /// Light.
    Lamp,
    /// The edge of a light.
    LampEdge,
    /// Paper white.
    White,
    /// Guide lines.
    Rule,
    /// A stop.
    Stop,
    /// The ground behind a stop.
    StopWash,
}

impl Ink {
    /// The name by which the template knows the colour.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Existing => "ink",
            Self::Steel => "steel",
            Self::Pale => "pale",
            Self::Soft => "soft",
            Self::Deed => "deed",
            Self::Power => "volt",
            Self::Lamp => "lamp",
            Self::LampEdge => "lamp-edge",
            Self::White => "white",
            Self::Rule => "rule",
            Self::Stop => "stop",
            Self::StopWash => "stop-wash",
        }
    }
}

/// A place on the drawing, millimetres right and down.
pub type Spot = (f64, f64);

/// Where words stand from their spot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// They start there.
    Start,
    /// They are centred there.
    Middle,
    /// They end there.
    End,
    /// They start there and run upwards, centred across.
    Upwards,
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Broken.
    Dashed,
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A line.
    Line {
        /// Start.
        from: Spot,
        /// End.
        to: Spot,
        /// Colour.
        ink: Ink,
        /// Width in millimetres.
        width: f64,
        /// Broken or not.
        dash: Dash,
    },
    /// A closed shape.
    Shape {
        /// Corners.
        corners: Vec<Spot>,
        /// Body.
        fill: Ink,
        /// Outline.
        edge: Ink,
        /// Outline broken or not.
        dash: Dash,
    },
    /// A disc.
    Disc {
        /// Middle.
        at: Spot,
        /// Radius in millimetres.
        radius: f64,
        /// Body.
        fill: Ink,
        /// Outline.
        edge: Ink,
    },
    /// Words on one line.
    Words {
        /// The end of the baseline that `anchor` names.
        at: Spot,
        /// How they stand.
        anchor: Anchor,
        /// Size in points.
        size: f64,
        /// Colour.
        ink: Ink,
        /// Whether they are bold.
        weight: Weight,
        /// The words.
        text: String,
    },
}

/// Weight of words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}

/// A finished drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width in millimetres.
    pub width: f64,
    /// Height in millimetres.
    pub height: f64,
    /// Marks, later ones over earlier ones.
    pub marks: Vec<Mark>,
    /// What it shows, in words, for those who cannot see it.
    pub described: String,
}

impl Drawing {
    /// Adds an upright box by its upper left corner and size.
    pub fn oblong(&mut self, at: Spot, size: Spot, fill: Ink, edge: Ink, dash: Dash) {
        let (x, y) = at;
        let (w, h) = size;
        self.marks.push(Mark::Shape {
            corners: vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)],
            fill,
            edge,
            dash,
        });
    }

    /// Adds a line.
    pub fn line(&mut self, from: Spot, to: Spot, ink: Ink, width: f64) {
        self.marks.push(Mark::Line { from, to, ink, width, dash: Dash::Solid });
    }

    /// Adds words of regular weight.
    pub fn words(&mut self, at: Spot, anchor: Anchor, size: f64, ink: Ink, text: impl Into<String>) {
        self.marks.push(Mark::Words { at, anchor, size, ink, weight: Weight::Regular, text: text.into() });
    }

    /// Adds bold words.
    pub fn bold(&mut self, at: Spot, anchor: Anchor, size: f64, ink: Ink, text: impl Into<String>) {
        self.marks.push(Mark::Words { at, anchor, size, ink, weight: Weight::Bold, text: text.into() });
    }
}

/// Millimetres that words of this size take at most in the paper's typeface: no letter is wider than its class here
/// (checked against the typeface), letters beyond plain Latin are taken as wide as they are high.
#[must_use]
pub fn width_of(text: &str, size: f64) -> f64 {
    const MM_PER_POINT: f64 = 25.4 / 72.0;
    text.chars().map(share_of).sum::<f64>() * size * MM_PER_POINT
}

/// Greatest width of a letter as a share of the type's size, regular or bold.
fn share_of(letter: char) -> f64 {
    match letter {
        ' ' | '.' | ',' | '·' | '\'' | 'i' | 'l' | 'j' | '|' | '!' | ':' | ';' => 0.36,
        'I' => 0.43,
        '0'..='9' => 0.64,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 0.98,
        'A'..='Z' | '#' | '&' | '$' | '+' | '=' => 0.77,
        letter if letter.is_ascii() => 0.61,
        _ => 1.0,
    }
}

/// Height of capitals and figures of this size, in millimetres.
#[must_use]
pub fn height_of(size: f64) -> f64 {
    0.7 * size * 25.4 / 72.0
}

/// Cuts words to a width, with an ellipsis where something is left out.
#[must_use]
pub fn shortened(text: &str, size: f64, width: f64) -> String {
    if width_of(text, size) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for letter in text.chars() {
        kept.push(letter);
        if width_of(&kept, size) + width_of("…", size) > width {
            kept.pop();
            break;
        }
    }
    let kept = kept.trim_end();
    if kept.is_empty() { String::new() } else { format!("{kept}…") }
}
