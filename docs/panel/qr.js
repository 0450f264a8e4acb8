// A text as a QR code (ISO/IEC 18004): the squares, and the path that draws them. The code is made in the page, by uqr.

/*! uqr, which makes the QR codes:
MIT License. Copyright (c) Project Nayuki. Copyright (c) 2023 Anthony Fu.

Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation
files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy,
modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software
is furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES
OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE
LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR
IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.
*/

import { encode } from "uqr";

/** Beyond this a code has so many squares that a camera at the back of a room, or a print of 35 mm, fails. */
export const MOST_BYTES = 500;
/** The standard asks for a margin of four squares. */
export const QUIET = 4;
// Up to here a code is coarse enough for the stronger correction to cost nothing in reading.
const SHORT_BYTES = 213;

/** The squares of a code, row by row, without its margin. @returns {{squares: boolean[][]}|{problem: string}} */
export function qrCode(text) {
  const bytes = new TextEncoder().encode(text).length;
  if (bytes > MOST_BYTES) {
    return { problem: `The link has ${bytes} characters; a code that can be read across a room holds at most ${MOST_BYTES}. Make fewer changes, or send the link as text.` };
  }
  const { data } = encode(text, { ecc: bytes <= SHORT_BYTES ? "M" : "L", border: 0 });
  return { squares: data };
}

/** One path for all dark squares: a run of a row is one rectangle. */
export function squaresPath(squares) {
  let path = "";
  squares.forEach((row, y) => {
    let start = null;
    [...row, false].forEach((dark, x) => {
      if (dark && start === null) start = x;
      if (!dark && start !== null) {
        path += `M${start + QUIET},${y + QUIET}h${x - start}v1h${start - x}z`;
        start = null;
      }
    });
  });
  return path;
}

/** The width of a code with its margin, in squares. */
export function wholeWidth(squares) {
  return squares.length + 2 * QUIET;
}
