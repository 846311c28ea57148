// Package table reads and writes the spreadsheet files that people have: rows
// of cells, separated by commas, semicolons or tabs. It knows nothing of what
// the cells mean.
//
// The usual way in is [Read], which finds out by itself how a file is encoded
// and separated, and [Write], or a [Writer] for rows that come one by one.
//
// What is promised:
//
//   - What Write wrote, Read gives back: the same cells, byte for byte, with
//     line breaks, quotes and spaces as they were. Only short rows come back
//     longer, filled up to the header with empty cells.
//   - No cell that Write writes can be run as a formula by a spreadsheet; see
//     [Neutralise].
//   - The same table is always written as the same bytes.
//   - Read never guesses in silence where text could be lost: it gives an
//     error that names the line and what to do.
package table
