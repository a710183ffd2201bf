use super::{Done, World, place, today};
use crate::page::{Open, Options, serve};
use clap::Args;

/// Open the journal as a page in the browser, here or on a phone that you let in
///
/// It answers on this computer alone, unless you share it: then a link that works once, also printed as a QR code, lets a phone on
/// the same network in. It ends with Ctrl-C.
#[derive(Args)]
pub(super) struct Page {
    /// The port to open it at; else one that is free
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    port: Option<u16>,
    /// Let phones on the same network in, each by a link that works once
    #[arg(long)]
    share: bool,
}

impl Page {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let options = Options {
            folder: place::folder(world),
            port: self.port,
            share: self.share,
            today,
        };
        serve(&options, |open| show(world, open))
    }
}

fn show(world: &mut World, open: &Open) -> Done {
    writeln!(world.out, "The page is open at {}", open.here)?;
    if let Some((address, code)) = &open.phone {
        writeln!(
            world.out,
            "\n{}\n\nA phone on the same network comes in by this code, or at {address}\nThe link works once; the page's Studio gives new ones.",
            code.text()
        )?;
    }
    Ok(world.out.flush()?)
}
