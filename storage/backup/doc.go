// Package backup keeps copies of a cupboard that outlive its store, and brings
// them back.
//
// A backup is the JSON Lines export of package exchange with a stamp: plain
// text, a record a line, its last line a count and a checksum. The usual ways
// in are [Watch] for as long as the interface is open and [Daily] after a
// command that wrote, which keep the backups of each day in a folder of the
// store; [Write] for one at a place that the user names; [Restore] to bring
// one back and [Return] to undo that.
//
// Promised: a file at a place of a backup is the old one or the new one, whole,
// and the new one takes its place only when it was read back and holds
// together. No backup is removed before a newer one has been read back, none
// while the clock seems wrong, and none is replaced by one that holds less
// without a cause. A restore changes the store only when all of what it brings
// is on disk and was read back; the store as it was is kept aside; a kill at
// any moment leaves the one or the other. Nothing outside the store's folder
// is written by a restore.
package backup
