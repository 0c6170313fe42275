//! A caution: something that is allowed but that a person should look at
//! before sawing. Stages return them beside their results; only the reports
//! print them.

/// A calm, specific warning with what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// What is the matter, with the values and the rule.
    pub message: String,
    /// What one could do, or who decides.
    pub help: String,
}

impl Caution {
    /// A caution from its two sentences.
    pub fn new(message: impl Into<String>, help: impl Into<String>) -> Caution {
        Caution {
            message: message.into(),
            help: help.into(),
        }
    }
}
