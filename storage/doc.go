// Package storage keeps a cupboard on disk, in a Badger store.
//
// The usual way in is [Open]; [Store.Collection] gives the cupboard in memory,
// [Store.Commit] makes one change to it, [Store.Undo] takes the last one back.
//
// Promised: when Commit returns without an error the change is synced to disk
// twice, whole: in Badger, and as a line of a journal beside it (package
// journal). When it returns an error nothing of it is stored, unless Badger
// itself failed: then that is settled by the next opening, which compares the two
// and brings up whichever is behind. A change too large for one Badger
// transaction is preceded by what takes it back, with which opening undoes what a
// kill left of it before it makes the change anew from the journal: all of it or
// nothing. Every record carries a
// checksum, and the journal knows a fingerprint of them all. No error of Badger's
// leaves this package: callers meet the errors of package model.
//
// # Keys
//
//	m              what the store is at: schema, revision, counters, and a
//	               revision of which records may be written already
//	r kind number  a record, CBOR (RFC 8949) behind a CRC-32C of it
//	j revision     the history: when, what was done, what it undid
//	u revision n   the records as they were before that revision, in pieces
//
// Numbers are big-endian. Records hold CBOR maps with whole numbers for keys;
// a key once given a meaning keeps it.
package storage
