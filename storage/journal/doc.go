// Package journal writes every change to a cupboard down once more, outside
// the store, in files that an editor can read.
//
// The usual ways in are [Open] and [Begin], then [Journal.Append] for each
// change; [Read] gives the changes back.
//
// Promised: when Append returns without an error the change is synced to disk,
// whole; when it returns one nothing of it is left there. Reading never gives a
// change that was altered or cut short, nor does it pass over one unsaid: each
// line carries a checksum that takes in the line before it.
//
// # Files
//
// A journal is a folder of files named by the revision that each goes on from,
// 000000000057.jsonl. Each is JSON Lines (RFC 8259, UTF-8). The first line says
// where the file begins:
//
//	{"kind":"tuckrow-journal","format":1,"rev":57,"records":9,"state":"5d3c...","after":"a1f0...","sum":"77be..."}
//
// Every other line is a change:
//
//	{"rev":58,"at":"2026-11-25T21:04:11+01:00","title":"added 6123 Wrap dress","records":11,"state":"0c41...",
//	 "counters":{...},"put":[{"kind":"pattern",...},{"kind":"copy",...}],"gone":["copy 3"],"sum":"9e02..."}
//
// (on one line). Put are the records as they are after the change, written as in
// an export; gone names those that are no longer there. Records and state are how
// many there are after it and a fingerprint of them all. A change goes on from
// the revision before its own; but with "whole":true, put is all there is,
// whatever was before. A change too large for one line has lines before it with
// the same rev and "part":true, which count only with the last.
//
// Sum is the SHA-256, in hexadecimal, of the sum of the line before, which for the
// first line of a file is what it says in after, and then of the line itself as
// far as ,"sum":
package journal
