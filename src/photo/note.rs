use super::Format;
use std::fmt;

/// What a reader of the picture should know about the file it came from. The picture was read all the same.
#[derive(Debug, Clone, PartialEq)]
pub enum PhotoNote {
    /// The file ends before the picture does; its lowest rows are missing and were left out.
    CutOff {
        /// Rows left out, px, before the picture was turned.
        missing: usize,
        /// Rows that the whole picture has, px.
        of: usize,
    },
    /// A progressive JPEG was cut off while it sharpened the picture.
    CutOffWhileSharpening,
    /// The data are damaged near the end; the lowest rows could not be read and were left out.
    Damaged {
        /// Rows left out, px, before the picture was turned.
        missing: usize,
        /// Rows that the whole picture has, px.
        of: usize,
    },
    /// Something was see-through; it was laid over black.
    SeeThrough,
    /// An animation or a file of many pages: only the first was read.
    FirstOfMany,
    /// The name promises one format, the content is another.
    Mislabelled {
        /// The ending of the name.
        extension: String,
        /// What it is.
        format: Format,
    },
    /// An EXIF value that cannot be true was left out.
    ExifIgnored {
        /// What it should say.
        what: &'static str,
        /// What it says.
        got: String,
        /// What is believed.
        allowed: &'static str,
    },
    /// There is EXIF, but it cannot be read.
    ExifUnreadable,
}

impl fmt::Display for PhotoNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::CutOff { missing: 0, .. } => {
                f.write_str("the file was cut off at its very end; every row of the picture is there")
            }
            Self::CutOff { missing, of } => {
                write!(
                    f,
                    "the file was cut off; the last {missing} of {of} rows are missing and were left out"
                )
            }
            Self::CutOffWhileSharpening => f.write_str(
                "the file was cut off: the picture is whole, but its fine detail is coarser than it was",
            ),
            Self::Damaged { missing, of } => {
                write!(
                    f,
                    "the file is damaged; the last {missing} of {of} rows cannot be read and were left out"
                )
            }
            Self::SeeThrough => {
                f.write_str("parts of the picture are see-through; they were laid over black")
            }
            Self::FirstOfMany => f.write_str("the file holds several pictures; only the first was read"),
            Self::Mislabelled { extension, format } => {
                write!(f, "named `.{extension}`, but it is a {} file; read as that", format.name())
            }
            Self::ExifIgnored { what, got, allowed } => {
                write!(f, "EXIF gives {what} as {got}, which is not believed (allowed: {allowed}); left out")
            }
            Self::ExifUnreadable => {
                f.write_str("the EXIF data cannot be read: exposure, focal length and time are not known")
            }
        }
    }
}
