// Package owned answers before buying: is it owned, or something close to it, or
// on the list of wishes. What is asked for is typed, or read off a barcode.
//
// The usual way in is [Ask].
//
// Promised: a barcode that is on a listed sleeve is known; what one probably
// stands for is never more than close.
package owned

import (
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
)

// Answer is what is known of a pattern that is not bought yet.
type Answer struct {
	Verdict lookup.Answer
	Owned   []lookup.Owned
	Wishes  []*model.Wish // wanted or on the way
	Coded   bool          // it was a barcode that was asked for
	Reads   string        // what that probably stands for: publisher and number; empty where it is like none
}

// Ask answers a number, words, or a barcode, for which it has what was learned
// from others. Of nothing it knows nothing.
func Ask(x *lookup.Index, learned func() *propose.Known, query string) Answer {
	text := words.Clean(query)
	a := Answer{Verdict: lookup.None, Coded: model.IsGTIN(text)}
	if a.Coded {
		g := learned().Code(text)
		if g.Pattern != 0 {
			return Answer{Verdict: lookup.Own, Coded: true, Owned: []lookup.Owned{{Pattern: g.Pattern, Why: "the same barcode"}}}
		}
		if text = ""; g.Publisher != "" && g.Number != "" {
			a.Reads = g.Publisher + " " + g.Number
			text = a.Reads
		}
	}
	if text == "" {
		return a
	}
	a.Verdict, a.Owned = x.Have(text)
	a.Wishes = x.Wishes(text)
	if !a.Coded {
		return a
	}
	if a.Verdict == lookup.Own {
		a.Verdict = lookup.Close // a guess is no knowledge
	}
	for i := range a.Owned {
		a.Owned[i].Why = "by its barcode it is probably " + a.Reads + ": look at the sleeve"
	}
	return a
}

// Barcode says what a barcode came to that is on no sleeve; nothing of what was
// typed.
func (a Answer) Barcode() string {
	switch {
	case !a.Coded || a.Verdict == lookup.Own:
		return ""
	case a.Reads == "":
		return "this barcode is on no sleeve that is listed, and like none"
	}
	return "not owned: by its barcode it is probably " + a.Reads
}
