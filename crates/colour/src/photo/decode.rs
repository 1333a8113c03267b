//! From a file's bytes to a picture, without trusting the file.
//!
//! Size is read and judged before anything is unpacked, so that a small file that claims a huge picture costs nothing;
//! what a photograph of a piece never needs (animation, sixteen bits, print inks) is refused in words that say what to do.

use std::io::Cursor;

use image::codecs::png::PngDecoder;
use image::codecs::webp::WebPDecoder;
use image::metadata::Orientation;
use image::{ColorType, DynamicImage, ImageDecoder, ImageEncoder, ImageError, ImageFormat, Limits};

use crate::photo::Picture;

/// Most pixels of a photograph: 50 million.
pub const MOST_PIXELS: u64 = 50_000_000;
/// Most bytes of a file: 64 MiB.
pub const MOST_BYTES: usize = 64 << 20;
/// Longest side.
const LONGEST: u32 = 20_000;

/// Why a picture cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PhotoError {
    /// The file is too long.
    #[error("the file has {mib} MiB; a photograph may have {most_mib}. Send it in the camera's middle size, as JPEG.")]
    FileTooLarge {
        /// Its size.
        mib: usize,
        /// The limit.
        most_mib: usize,
    },
    /// Too many pixels.
    #[error(
        "the picture has {width} × {height} pixels ({megapixels} million); up to {most} million can be used. Take it with the camera's ordinary setting (12 to 50 million)."
    )]
    TooManyPixels {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// Millions of them.
        megapixels: u64,
        /// The limit in millions.
        most: u64,
    },
    /// Not a kind of file that is read.
    #[error("the file is {what}; photographs are read as JPEG, PNG or WebP. {remedy}")]
    Kind {
        /// What it seems to be.
        what: &'static str,
        /// What to do.
        remedy: &'static str,
    },
    /// More than one picture in the file.
    #[error("the file holds a moving picture; send a still one.")]
    Animated,
    /// Sixteen bits a channel.
    #[error("the picture has 16 bits a channel; save it with 8 (any JPEG has).")]
    SixteenBits,
    /// Inks instead of light.
    #[error("the picture is made of print inks (CMYK), whose colours depend on a press; save it as RGB.")]
    PrintInks,
    /// The end is missing.
    #[error("the file breaks off before the picture is complete. Send it again, or take it anew.")]
    BreaksOff,
    /// Anything else that a reader stumbles over.
    #[error("the file is damaged ({what}). Send it again, or take it anew.")]
    Damaged {
        /// The reader's words.
        what: String,
    },
    /// Pixels that do not fit the size.
    #[error("{bytes} bytes do not make a picture of {width} × {height} pixels.")]
    Shape {
        /// Pixels across.
        width: usize,
        /// Pixels down.
        height: usize,
        /// Bytes given.
        bytes: usize,
    },
    /// The mask belongs to another picture.
    #[error(
        "the zone was marked on a picture of {mask_width} × {mask_height} pixels, this one has {width} × {height}."
    )]
    MaskSize {
        /// Mask's pixels across.
        mask_width: usize,
        /// Mask's pixels down.
        mask_height: usize,
        /// Picture's pixels across.
        width: usize,
        /// Picture's pixels down.
        height: usize,
    },
    /// Nothing marked.
    #[error("no zone is marked: draw its outline, or touch it in a few places.")]
    EmptyMask,
    /// A spot outside of the picture.
    #[error("the spot at {x}, {y} lies outside of the picture ({width} × {height} pixels).")]
    Outside {
        /// From the left.
        x: usize,
        /// From the top.
        y: usize,
        /// Picture's pixels across.
        width: usize,
        /// Picture's pixels down.
        height: usize,
    },
    /// The grey card is no grey card.
    #[error("the card {what}. Lay it flat in the same light as the piece and mark a spot well inside it.")]
    Card {
        /// What is wrong.
        what: &'static str,
    },
    /// The zone cannot be told from what is around it.
    #[error("the zone's colour is too like its surroundings to grow over it by itself: draw its outline.")]
    NotSeparable,
}

impl Picture {
    /// Reads a JPEG, PNG or WebP file, turned upright as its camera says; what is see-through becomes white. A colour
    /// profile in the file is not applied.
    ///
    /// Takes at most about 4 bytes for each of [`MOST_PIXELS`] beside the file itself.
    ///
    /// # Errors
    /// [`PhotoError`], before anything large is unpacked wherever the file admits what it is.
    pub fn decode(file: &[u8]) -> Result<Self, PhotoError> {
        if file.len() > MOST_BYTES {
            return Err(PhotoError::FileTooLarge {
                mib: file.len() >> 20,
                most_mib: MOST_BYTES >> 20,
            });
        }
        match image::guess_format(file).ok() {
            Some(ImageFormat::Png) => {
                let decoder = PngDecoder::with_limits(Cursor::new(file), memory()).map_err(damage)?;
                check_size(&decoder)?;
                if decoder.is_apng().map_err(damage)? {
                    return Err(PhotoError::Animated);
                }
                unpack(decoder)
            }
            Some(ImageFormat::WebP) => {
                let decoder = WebPDecoder::new(Cursor::new(file)).map_err(damage)?;
                check_size(&decoder)?;
                if decoder.has_animation() {
                    return Err(PhotoError::Animated);
                }
                unpack(decoder)
            }
            Some(ImageFormat::Jpeg) => {
                let frame = jpeg_frame(file)?;
                check_pixels(frame.width, frame.height)?;
                if frame.components == 4 {
                    return Err(PhotoError::PrintInks);
                }
                if frame.bits > 8 {
                    return Err(PhotoError::SixteenBits);
                }
                let decoder = image::codecs::jpeg::JpegDecoder::new(Cursor::new(file)).map_err(damage)?;
                check_size(&decoder)?;
                unpack(decoder)
            }
            other => Err(unknown(other, file)),
        }
    }

    /// The picture as a PNG file.
    ///
    /// # Errors
    /// [`PhotoError::Damaged`] where the writer fails, which needs memory to run out.
    pub fn to_png(&self) -> Result<Vec<u8>, PhotoError> {
        let mut file = Vec::new();
        let encoder = image::codecs::png::PngEncoder::new(&mut file);
        self.write_with(encoder)?;
        Ok(file)
    }

    /// The picture as a JPEG file of quality 1 to 100.
    ///
    /// # Errors
    /// [`PhotoError::Damaged`] where a side is longer than a JPEG can have (65 535).
    pub fn to_jpeg(&self, quality: u8) -> Result<Vec<u8>, PhotoError> {
        let mut file = Vec::new();
        let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut file, quality.clamp(1, 100));
        self.write_with(encoder)?;
        Ok(file)
    }

    fn write_with(&self, encoder: impl ImageEncoder) -> Result<(), PhotoError> {
        let side = |n: usize| {
            u32::try_from(n).map_err(|_| PhotoError::Damaged {
                what: "a side is too long".to_owned(),
            })
        };
        let (width, height) = (side(self.width)?, side(self.height)?);
        encoder
            .write_image(&self.rgb, width, height, image::ExtendedColorType::Rgb8)
            .map_err(damage)
    }
}

/// Limits while a header is read: its size is judged by [`check_pixels`], in words of its own.
fn memory() -> Limits {
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(4 * MOST_PIXELS);
    limits
}

fn limits() -> Limits {
    let mut limits = memory();
    limits.max_image_width = Some(LONGEST);
    limits.max_image_height = Some(LONGEST);
    limits
}

fn check_pixels(width: u32, height: u32) -> Result<(), PhotoError> {
    let pixels = u64::from(width) * u64::from(height);
    if pixels > MOST_PIXELS || width > LONGEST || height > LONGEST {
        return Err(PhotoError::TooManyPixels {
            width,
            height,
            megapixels: pixels / 1_000_000,
            most: MOST_PIXELS / 1_000_000,
        });
    }
    Ok(())
}

fn check_size(decoder: &impl ImageDecoder) -> Result<(), PhotoError> {
    let (width, height) = decoder.dimensions();
    check_pixels(width, height)?;
    match decoder.color_type() {
        ColorType::L8 | ColorType::La8 | ColorType::Rgb8 | ColorType::Rgba8 => Ok(()),
        _ => Err(PhotoError::SixteenBits),
    }
}

fn unpack(mut decoder: impl ImageDecoder) -> Result<Picture, PhotoError> {
    decoder.set_limits(limits()).map_err(damage)?;
    let upright = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut image = DynamicImage::from_decoder(decoder).map_err(damage)?;
    image.apply_orientation(upright);
    let rgb = if image.color().has_alpha() {
        on_white(&image)
    } else {
        image.into_rgb8()
    };
    let side = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    Picture::from_rgb(side(rgb.width()), side(rgb.height()), rgb.into_raw())
}

fn on_white(image: &DynamicImage) -> image::RgbImage {
    let source = image.to_rgba8();
    let mut rgb = image::RgbImage::new(source.width(), source.height());
    for (out, pixel) in rgb.pixels_mut().zip(source.pixels()) {
        let [r, g, b, a] = pixel.0.map(u32::from);
        let over = |v: u32| u8::try_from((v * a + 255 * (255 - a) + 127) / 255).unwrap_or(u8::MAX);
        *out = image::Rgb([over(r), over(g), over(b)]);
    }
    rgb
}

/// What a JPEG says of itself before its data.
struct Frame {
    width: u32,
    height: u32,
    components: u8,
    bits: u8,
}

/// Walks the segments of a JPEG to its frame and its scan, and sees that it has an end. The decoder fills up what is
/// missing with grey and says nothing.
fn jpeg_frame(file: &[u8]) -> Result<Frame, PhotoError> {
    let mut at = 2;
    let mut frame = None;
    loop {
        let &[0xff, marker, high, low] = file.get(at..at + 4).ok_or(PhotoError::BreaksOff)? else {
            return Err(PhotoError::Damaged {
                what: "a segment does not begin where it should".to_owned(),
            });
        };
        if marker == 0xff {
            at += 1;
            continue;
        }
        let length = usize::from(u16::from_be_bytes([high, low]));
        // Frames are C0 to CF without the tables C4, C8, CC.
        if (0xc0..=0xcf).contains(&marker) && ![0xc4, 0xc8, 0xcc].contains(&marker) {
            let &[bits, h1, h0, w1, w0, components] = file.get(at + 4..at + 10).ok_or(PhotoError::BreaksOff)? else {
                return Err(PhotoError::BreaksOff);
            };
            let side = |high, low| u32::from(u16::from_be_bytes([high, low]));
            frame = Some(Frame {
                width: side(w1, w0),
                height: side(h1, h0),
                components,
                bits,
            });
        }
        at += 2 + length;
        if marker == 0xda {
            break;
        }
    }
    let scans = file.get(at..).unwrap_or_default();
    if !scans.windows(2).any(|pair| pair == [0xff, 0xd9]) {
        return Err(PhotoError::BreaksOff);
    }
    frame.ok_or_else(|| PhotoError::Damaged {
        what: "it has no frame".to_owned(),
    })
}

fn unknown(format: Option<ImageFormat>, file: &[u8]) -> PhotoError {
    let (what, remedy) = match format {
        Some(ImageFormat::Gif) => ("a GIF", "Send the photograph itself."),
        Some(ImageFormat::Tiff) => ("a TIFF or a camera's raw file", "Export it as JPEG."),
        Some(_) => ("of another kind of picture", "Export it as JPEG."),
        None if file.is_empty() => ("empty", "Choose the file again."),
        None if file.get(4..8) == Some(b"ftyp") => (
            "an HEIC or AVIF picture, or a film",
            "Set the phone's camera to “most compatible”, or share it as JPEG.",
        ),
        None => ("no picture", "Choose a photograph."),
    };
    PhotoError::Kind { what, remedy }
}

fn damage(error: ImageError) -> PhotoError {
    match error {
        ImageError::IoError(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => PhotoError::BreaksOff,
        ImageError::Limits(_) => PhotoError::Damaged {
            what: "it unpacks to more than it says".to_owned(),
        },
        other => {
            let what = other.to_string();
            let ends = ["eof", "end of file", "unexpected end", "truncat", "not enough"];
            if ends.iter().any(|word| what.to_lowercase().contains(word)) {
                PhotoError::BreaksOff
            } else {
                PhotoError::Damaged {
                    what: what.chars().take(120).collect(),
                }
            }
        }
    }
}
