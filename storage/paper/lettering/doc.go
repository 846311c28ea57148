// Package lettering sets text for paper: it shapes a text in the embedded
// fonts, measures it, and fits it into the room there is.
//
// The usual way in is [New] once for a piece of work, then [Setter.Fit] for
// what goes into a room and [Setter.Line] for what has a line to itself. A
// [Line] is measured in ems, so that one shaping serves every size.
//
// Promised: what comes back is never wider or higher than the room; a text that
// was not set whole says so ([Block.Cut]); every character is either set or,
// where no font has it, shown as an empty box and listed ([Line.Missing]). Text
// of any direction is in the order in which it is seen. The same text gives the
// same line, always.
//
// Scripts covered: Latin, Greek, Cyrillic, Hebrew, Arabic, Armenian, Georgian,
// Devanagari, Thai; Chinese, Japanese and Korean in one weight. The fonts and
// their licences are in the folder fonts.
//
// Lengths are in millimetres, sizes of letters in points of 1/72 inch.
package lettering

// Point is a point in millimetres: 1/72 of an inch of 25.4 mm.
const Point = 25.4 / 72
