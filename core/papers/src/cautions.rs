//! The cautions on every paper that can lead to a hole or a live part.

/// One caution: a few words for a page's foot, and the sentence that explains them.
pub struct Caution {
    /// A few words.
    pub short: &'static str,
    /// What to do.
    pub full: &'static str,
}

/// All of them, in the order in which they are met on site (common practice, no source).
pub const CAUTIONS: [Caution; 9] = [
    Caution {
        short: "isolate and prove dead",
        full: "Isolate every supply, lock it off and prove it dead before touching a conductor or opening an enclosure.",
    },
    Caution {
        short: "mains work by a licensed person",
        full: "Work on the mains side, and its certificate, belongs to a person licensed for it where the site is.",
    },
    Caution {
        short: "guard that carries load: ask a structural engineer",
        full: "A rail that guards an edge carries people's weight: no hole in it before a structural engineer has agreed.",
    },
    Caution {
        short: "hidden services",
        full: "Look for cables, pipes, bonds and prestressed parts behind and below everything that is drilled or fixed; \
               never remove a bond.",
    },
    Caution {
        short: "eyes and hands when drilling",
        full: "Wear eye protection and cut-resistant gloves where the drill allows them; clamp the tube, keep people away.",
    },
    Caution {
        short: "swarf and edges",
        full: "Drill with no cable in the tube; deburr inside and out, take all swarf out and protect edges before threading.",
    },
    Caution {
        short: "restore the coating",
        full: "Restore the coating or passive surface at every hole before anything is pressed in.",
    },
    Caution {
        short: "work at height",
        full: "Stairs, bridges and landings are work at height: plan access, edges and what can fall on people below.",
    },
    Caution {
        short: "local codes govern",
        full: "Where a local code or the owner asks for more than this paper, the local code or the owner governs.",
    },
];

/// What the program does and does not do.
pub const DISCLAIMER: &str = "Newel screens, it does not certify.";

/// The cautions in one line for a page's foot.
#[must_use]
pub fn one_line() -> String {
    let words: Vec<&str> = CAUTIONS.iter().map(|caution| caution.short).collect();
    words.join(" · ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The list of cautions that the program promises on such pages.
    #[test]
    fn every_usual_caution_is_there() {
        let all = one_line();
        for word in [
            "isolate",
            "licensed",
            "structural engineer",
            "hidden services",
            "eyes and hands",
            "swarf",
            "coating",
            "height",
            "local codes",
        ] {
            assert!(all.contains(word), "{word}");
        }
    }
}
