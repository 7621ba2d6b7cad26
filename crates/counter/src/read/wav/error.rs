//! Why a sound file is not taken: what was read, what was expected, what to do.

/// Why a sound file is not taken.
#[derive(Debug, thiserror::Error)]
pub enum NotAWav {
    /// It begins otherwise than a WAV file.
    #[error(
        "{name} is no WAV file: it begins with {begins}, `RIFF` and `WAVE` were expected; save the recording as \
         WAV (PCM)"
    )]
    OtherFile {
        /// The file's name.
        name: String,
        /// What it begins with, in words.
        begins: String,
    },
    /// It ends before its first sample.
    #[error("{name} ends within its header, before the first sample; copy or record it again")]
    HeaderCut {
        /// The file's name.
        name: String,
    },
    /// Its samples are compressed, or of a format that is not read.
    #[error(
        "{name} holds samples of format {format}; whole numbers (PCM, 1) or floating point (IEEE, 3) were \
         expected: save it as WAV (PCM) without compression"
    )]
    Format {
        /// The file's name.
        name: String,
        /// The format's number, in words where it is known.
        format: String,
    },
    /// Its samples have a size that is not read.
    #[error(
        "{name} holds {bits}-bit samples in {bytes} bytes; 8, 16, 24 or 32 bits of whole numbers or 32 bits of \
         floating point were expected"
    )]
    Bits {
        /// The file's name.
        name: String,
        /// Bits of a sample.
        bits: u16,
        /// Bytes it takes.
        bytes: u16,
    },
    /// It has no channel, or more than two.
    #[error(
        "{name} has {channels} channels; 1 or 2 were expected: export the channels that matter"
    )]
    Channels {
        /// The file's name.
        name: String,
        /// How many it has.
        channels: u16,
    },
    /// Its header contradicts itself.
    #[error("the header of {name} contradicts itself: {why}; save it again as WAV (PCM)")]
    Header {
        /// The file's name.
        name: String,
        /// What does not fit.
        why: String,
    },
    /// The disk would not give it.
    #[error("cannot read {name}: {why}")]
    Disk {
        /// The file's name.
        name: String,
        /// What the system says.
        why: std::io::Error,
    },
}
