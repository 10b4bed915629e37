//! What stands beside each other.

use super::flow::{Flow, Piece, stacked};
use super::inline::Element;
use super::tags::TagRef;

impl<'d> Flow<'d> {
    /// Sets `work` in a column of its own and gives its pieces.
    pub fn column(
        &mut self,
        [left, width]: [f32; 2],
        work: impl FnOnce(&mut Flow<'d>),
    ) -> Vec<Piece<'d>> {
        let outside = (std::mem::take(&mut self.pieces), self.left, self.width);
        let around = (self.grid, self.hanging.take());
        (self.left, self.width, self.grid) = (left, width.max(24.0), false);
        work(self);
        let inside = std::mem::take(&mut self.pieces);
        (self.pieces, self.left, self.width) = outside;
        (self.grid, self.hanging) = around;
        inside
    }

    /// Columns as one piece; below each other when they would not fit a page.
    pub fn beside(&mut self, columns: Vec<Vec<Piece<'d>>>, gap: f32) {
        let height = columns
            .iter()
            .map(|column| stacked(column))
            .fold(0.0, f32::max);
        if height > self.tallest {
            for mut column in columns {
                self.pieces.append(&mut column);
            }
            return;
        }
        let mut row = Piece {
            gap: self.gap_of(gap),
            height,
            ..Piece::default()
        };
        for column in columns {
            let mut y = 0.0;
            for (n, piece) in column.into_iter().enumerate() {
                y += if n == 0 { 0.0 } else { piece.gap };
                row.ids.extend(piece.ids);
                row.marks.extend(piece.marks.into_iter().map(|mut mark| {
                    mark.at[1] += y;
                    mark
                }));
                y += piece.height;
            }
        }
        self.push(row);
    }

    pub fn side_by_side(&mut self, element: Element<'d>, share: f32, tag: Option<TagRef>) {
        let parts: Vec<Element<'d>> = element.children().filter(Element::is_element).collect();
        let [first, second] = parts.as_slice() else {
            self.children(element, tag);
            return;
        };
        let space = 16.0;
        let left = (self.width - space) * share;
        let places = [
            [self.left, left],
            [self.left + left + space, self.width - left - space],
        ];
        let columns = [first, second]
            .into_iter()
            .zip(places)
            .map(|(part, place)| self.column(place, |flow| flow.block(*part, tag)))
            .collect();
        self.beside(columns, 6.0);
    }

    /// Electrical parts, two in a row.
    pub fn columns(&mut self, element: Element<'d>, tag: Option<TagRef>) {
        let parts: Vec<Element<'d>> = element.children().filter(Element::is_element).collect();
        let space = 18.0;
        let width = (self.width - space) / 2.0;
        for row in parts.chunks(2) {
            let mut columns = Vec::new();
            for (n, part) in row.iter().enumerate() {
                let left = self.left + if n == 0 { 0.0 } else { width + space };
                columns.push(self.column([left, width], |flow| flow.block(*part, tag)));
            }
            self.beside(columns, 8.0);
        }
    }
}
