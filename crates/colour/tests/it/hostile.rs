//! Files that are not what they say, or not what can be used: refused in words, before they cost memory.

use colour::photo::{PhotoError, Picture};

/// A PNG of a header that claims a size, depth and kind, and of data that is not there.
fn png(width: u32, height: u32, bits: u8, kind: u8, more: &[u8]) -> Vec<u8> {
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[bits, kind, 0, 0, 0]].concat();
    chunk(&mut file, *b"IHDR", &header);
    file.extend_from_slice(more);
    // A zlib stream that ends at once.
    chunk(&mut file, *b"IDAT", &[0x78, 0x9c, 0x03, 0x00, 0x00, 0x00, 0x00, 0x01]);
    chunk(&mut file, *b"IEND", &[]);
    file
}

fn chunk(file: &mut Vec<u8>, name: [u8; 4], data: &[u8]) {
    file.extend_from_slice(&u32::try_from(data.len()).unwrap().to_be_bytes());
    let body = [&name[..], data].concat();
    file.extend_from_slice(&body);
    file.extend_from_slice(&crc(&body).to_be_bytes());
}

/// CRC-32 as PNG has it.
fn crc(data: &[u8]) -> u32 {
    !data.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |s, _| {
            if s & 1 == 1 { (s >> 1) ^ 0xedb8_8320 } else { s >> 1 }
        })
    })
}

fn picture() -> Picture {
    let rgb = (0..64 * 48 * 3).map(|i| u8::try_from(i * 7 % 251).unwrap()).collect();
    Picture::from_rgb(64, 48, rgb).unwrap()
}

fn said(file: &[u8]) -> String {
    Picture::decode(file).unwrap_err().to_string()
}

#[test]
fn a_picture_of_200_megapixels_is_refused_by_its_size() {
    let file = png(20_000, 10_000, 8, 2, &[]);
    assert_eq!(
        said(&file),
        "the picture has 20000 × 10000 pixels (200 million); up to 50 million can be used. Take it with the camera's ordinary setting (12 to 50 million)."
    );
}

#[test]
fn a_bomb_is_refused_before_it_unpacks() {
    assert!(said(&png(60_000, 60_000, 8, 6, &[])).contains("3600 million"));
    assert!(said(&png(u32::MAX >> 1, 1, 8, 2, &[])).len() < 300);
    // A few kilobytes that unpack to far more than the header admits.
    let small = png(4, 4, 8, 2, &[]);
    assert!(Picture::decode(&small).is_err());
}

/// A text chunk that unpacks to a hundred megabytes must not be unpacked.
#[test]
fn a_bomb_beside_the_picture_does_no_harm() {
    // Stored zlib blocks of zeros would be as long as they unpack to; this claims a huge length instead.
    let mut extra = Vec::new();
    chunk(
        &mut extra,
        *b"zTXt",
        b"Comment\0\0\x78\x9c\xed\xc1\x01\x01\x00\x00\x00\x80\x90\xfe\xaf\xee\x08\x0a",
    );
    let mut file = picture().to_png().unwrap();
    let after_header = 8 + 25;
    file.splice(after_header..after_header, extra);
    // Either read without it, or refused; never a panic, never the memory.
    if let Ok(read) = Picture::decode(&file) {
        assert_eq!(read, picture());
    }
}

#[test]
fn sixteen_bits_are_refused() {
    assert_eq!(Picture::decode(&png(4, 4, 16, 2, &[])), Err(PhotoError::SixteenBits));
    assert!(said(&png(4, 4, 16, 0, &[])).contains("16 bits"));
}

#[test]
fn moving_pictures_are_refused() {
    let mut control = Vec::new();
    chunk(&mut control, *b"acTL", &[0, 0, 0, 2, 0, 0, 0, 0]);
    assert_eq!(Picture::decode(&png(4, 4, 8, 2, &control)), Err(PhotoError::Animated));
    assert!(said(b"GIF89a\x01\x00\x01\x00\x00\x00\x00").contains("GIF"));
    // The header of an animated WebP: VP8X with the animation flag, then ANIM.
    let mut webp = b"RIFF\x00\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x02\x00\x00\x00\x03\x00\x00\x03\x00\x00".to_vec();
    webp.extend_from_slice(b"ANIM\x06\x00\x00\x00\x00\x00\x00\x00\x00\x00");
    webp.extend_from_slice(b"ANMF\x18\x00\x00\x00");
    webp.extend_from_slice(&[0; 24]);
    let size = u32::try_from(webp.len() - 8).unwrap();
    webp[4..8].copy_from_slice(&size.to_le_bytes());
    let error = Picture::decode(&webp).unwrap_err();
    assert!(
        matches!(
            error,
            PhotoError::Animated | PhotoError::Damaged { .. } | PhotoError::BreaksOff
        ),
        "{error}"
    );
}

#[test]
fn print_inks_are_refused() {
    let mut file = picture().to_jpeg(90).unwrap();
    let frame = file.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    // Four components where there were three: three more bytes in the frame, of which the length is told.
    file[frame + 3] += 3;
    file[frame + 9] = 4;
    file.splice(frame + 19..frame + 19, [4, 0x11, 0]);
    assert_eq!(Picture::decode(&file), Err(PhotoError::PrintInks));
}

#[test]
fn a_file_that_breaks_off_is_refused_wherever_it_does() {
    for file in [picture().to_jpeg(90).unwrap(), picture().to_png().unwrap()] {
        for share in 1..10 {
            let part = &file[..file.len() * share / 10];
            let error = Picture::decode(part).unwrap_err();
            assert!(
                matches!(error, PhotoError::BreaksOff | PhotoError::Damaged { .. }),
                "{share} tenths: {error}"
            );
        }
        assert!(Picture::decode(&file).is_ok());
    }
}

#[test]
fn what_is_no_photograph_is_named() {
    assert!(said(b"").contains("empty"));
    assert!(said(b"hello, this is a text").contains("no picture"));
    assert!(said(b"\0\0\0\x18ftypheic\0\0\0\0").contains("HEIC"));
    assert!(said(b"II*\0\x08\0\0\0").contains("TIFF"));
    assert!(said(&vec![0; 65 << 20]).contains("65 MiB"));
}

/// Any byte changed: a picture or words, never a panic.
#[test]
fn a_changed_byte_never_panics() {
    for file in [picture().to_jpeg(80).unwrap(), picture().to_png().unwrap()] {
        for at in (0..file.len()).step_by(3) {
            for value in [0, 0xff, file[at] ^ 0x10] {
                let mut changed = file.clone();
                changed[at] = value;
                let _ = Picture::decode(&changed).map(|picture| picture.width());
            }
        }
    }
}

#[test]
fn a_picture_comes_back_from_png() {
    assert_eq!(Picture::decode(&picture().to_png().unwrap()), Ok(picture()));
}
