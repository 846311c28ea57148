// Package exchange reads and writes the files by which a cupboard goes in and
// out: CSV, one row a copy; JSON Lines, everything; and the shelf file, TOML.
//
// The usual ways in are [ReadCSV] and [Import.Plan] for somebody's
// spreadsheet, [WriteCSV] and [WriteJSONL] for an export, [ReadJSONL] for a
// whole cupboard, [ReadShelf] and [WriteShelf] for the furniture.
//
// Promised: the same cupboard gives the same bytes; an export read into an
// empty store and exported again gives those bytes again; a file that cannot
// be used gives an error that says where and what to do, and changes nothing.
package exchange
