//! Lays blocks on pages.

use crate::strip::millimetres::Mm;

use super::block::Block;

/// Lays blocks on pages with so much room: each block with where it begins. What belongs together
/// stands on one page; only what is higher than a page is cut. The headings stand above the first
/// row of every page.
pub(crate) fn pages(blocks: Vec<Block>, headings: &Block, room: Mm) -> Vec<Vec<(Mm, Block)>> {
    let mut pages: Vec<Vec<(Mm, Block)>> = vec![Vec::new()];
    let (mut y, mut headed) = (Mm(0.0), false);
    // How many of those that come next were found to fit on this page together.
    let mut fit = 0;
    for index in 0..blocks.len() {
        let block = &blocks[index];
        let over = |headed: bool| if block.is_row() && !headed { headings.height } else { Mm(0.0) };
        if fit == 0 {
            let more = blocks[index..].iter().take_while(|block| block.with_next).count();
            let together = &blocks[index..blocks.len().min(index + more + 1)];
            let high = |of: &[Block]| of.iter().fold(Mm(0.0), |sum, one| sum + one.height);
            let chain =
                if high(together) + over(false) <= room { together } else { &together[..1] };
            fit = chain.len();
            if y + over(headed) + high(chain) > room && y > Mm(0.0) {
                pages.push(Vec::new());
                (y, headed) = (Mm(0.0), false);
            }
        }
        fit -= 1;
        let mut left = Some(block.clone());
        while let Some(mut block) = left.take() {
            if let Some(page) = pages.last_mut() {
                if block.is_row() && !headed {
                    page.push((y, headings.clone()));
                    y += headings.height;
                    headed = true;
                }
                // No page has room for less than a line; a cut leaves at least as much on it.
                if y + block.height > room && block.height > room - headings.height {
                    let (first, rest) = block.cut(room - y);
                    block = first;
                    left = Some(rest).filter(|rest| !rest.is_empty());
                }
                let high = block.height;
                page.push((y, block));
                y += high;
            }
            if left.is_some() {
                pages.push(Vec::new());
                (y, headed) = (Mm(0.0), false);
            }
        }
    }
    pages
}
