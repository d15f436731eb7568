//! What the typesetter sees: one template, the shared look, one file of data, and fonts.
//!
//! No path leads to a file of this computer, and there is no clock.

use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_kit::fonts::FontStore;

/// The library and the fonts, read when the first sheet is printed and not before.
static SHARED: LazyLock<Shared> = LazyLock::new(Shared::read);

/// Our own font first; the typesetter's fonts stand in for signs it lacks.
static OUR_FONTS: [&[u8]; 2] = [
    include_bytes!("../../fonts/NotoSans-Regular.ttf"),
    include_bytes!("../../fonts/NotoSans-Bold.ttf"),
];

const LOOK: &str = include_str!("../../templates/look.typ");

struct Shared {
    library: LazyHash<Library>,
    fonts: FontStore,
    template: FileId,
    look: Source,
    data: FileId,
}

impl Shared {
    fn read() -> Shared {
        let mut fonts = FontStore::new();
        for bytes in OUR_FONTS {
            fonts.extend(Font::iter(Bytes::new(bytes)).map(|font| {
                let info = font.info().clone();
                (font, info)
            }));
        }
        fonts.extend(typst_kit::fonts::embedded());
        Shared {
            library: LazyHash::new(Library::default()),
            fonts,
            template: file("sheet.typ"),
            look: Source::new(file("look.typ"), LOOK.to_owned()),
            data: file("data.json"),
        }
    }
}

fn file(name: &str) -> FileId {
    let path = VirtualPath::new(name).unwrap_or_else(|_| unreachable!("a plain file name"));
    FileId::new(RootedPath::new(VirtualRoot::Project, path))
}

/// One job of the press.
pub(super) struct Desk {
    template: Source,
    data: Bytes,
}

impl Desk {
    pub(super) fn with(template: &str, data: Vec<u8>) -> Desk {
        Desk { template: Source::new(SHARED.template, template.to_owned()), data: Bytes::new(data) }
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHARED.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        SHARED.fonts.book()
    }

    fn main(&self) -> FileId {
        SHARED.template
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        match id {
            id if id == SHARED.template => Ok(self.template.clone()),
            id if id == SHARED.look.id() => Ok(SHARED.look.clone()),
            other => Err(missing(other)),
        }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == SHARED.data { Ok(self.data.clone()) } else { Err(missing(id)) }
    }

    fn font(&self, index: usize) -> Option<Font> {
        SHARED.fonts.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_without_slash().into())
}
