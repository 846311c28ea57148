// Package choose shops the owner's own shelf: what of it is of some kind, fits
// somebody, can be cut from a cloth, and is worth sewing next.
//
// The usual way in is [Offers] with a [Question].
//
// Promised: what certainly does not fit, or is certainly too much for the cloth,
// is not offered; what nobody knows comes last and says so. Every pattern is
// offered once, by the copy of it that answers best.
package choose

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/cloth"
	"example.org/tuckrow/model/fit"
	"example.org/tuckrow/model/sewing"
)

// Question is what is looked for; what is left empty does not matter.
type Question struct {
	Category  *model.Category
	Publisher *model.Publisher
	From, To  int // years, both included; a pattern of no known year is in no range
	Cut       model.Cut
	NeverMade bool
	Words     []model.PatternID // those that words lead to; nil: all

	Who *model.Person
	By  []fit.Measure // nil: all

	Cloth *model.Cloth
	Size  string // of which the cloth is to be enough; empty: any

	On    model.Date // today
	South bool       // the seasons of the south
}

// Offer is a pattern that answers a question.
type Offer struct {
	Pattern *model.Pattern
	Copy    *model.Copy
	Reasons []string       // to sew it next
	Fit     *fit.Answer    // nil: nobody was named
	Cloth   []cloth.Answer // that are not too short; empty where no cloth was named, or nothing is known
	Known   bool           // whether all that was asked is known

	fits, cuts bool // are known, where asked
}

// Unsure says what of the question is not known of an offer; empty where all is.
func (o Offer) Unsure() string {
	switch {
	case o.fits && o.cuts:
		return ""
	case o.fits:
		return "whether the cloth is enough"
	case o.cuts:
		return "whether it fits"
	}
	return "whether it fits, and whether the cloth is enough"
}

// Offers lists what answers a question: first what is known to, then what may,
// the more is known of it the sooner; in each what fits before what is between
// sizes, and then as sewing.Suggest puts it.
func Offers(c *model.Collection, q Question) []Offer {
	copies := map[model.PatternID][]*model.Copy{}
	for _, cp := range c.Copies().All() {
		if cp.AtHand() && (q.Cut == model.CutUnknown || cp.Cut == q.Cut) {
			copies[cp.Pattern] = append(copies[cp.Pattern], cp)
		}
	}
	made := map[model.PatternID]bool{}
	for _, m := range c.Makes().All() {
		made[m.Pattern] = true
	}
	wanted := map[model.PatternID]bool{}
	for _, id := range q.Words {
		wanted[id] = true
	}
	among := func(p *model.Pattern) bool {
		switch {
		case q.Words != nil && !wanted[p.ID], q.NeverMade && made[p.ID],
			q.Category != nil && p.Category != q.Category.ID, q.Publisher != nil && p.Publisher != q.Publisher.ID,
			q.From > 0 && p.Year < q.From, q.To > 0 && (p.Year == 0 || p.Year > q.To):
			return false
		}
		return true
	}
	var out []Offer
	for _, pick := range sewing.Suggest(c, sewing.Asked{On: q.On, South: q.South, Among: among}) {
		if o, ok := q.offer(c.Pattern(pick.Pattern), copies[pick.Pattern]); ok {
			o.Reasons = pick.Reasons
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b Offer) int { return cmp.Compare(a.rank(), b.rank()) })
	return out
}

// rank is the lower the more is known and the better it fits.
func (o Offer) rank() int {
	const verdicts = 4
	unknown := 0
	switch {
	case o.Known:
	case o.fits:
		unknown = 1
	case o.cuts:
		unknown = 2
	default:
		unknown = 3
	}
	if o.Fit == nil {
		return unknown * verdicts
	}
	return unknown*verdicts + better(o.Fit.Verdict)
}

// offer judges one pattern by its copies; false: it is no answer.
func (q Question) offer(p *model.Pattern, copies []*model.Copy) (Offer, bool) {
	o := Offer{Pattern: p}
	for _, cp := range copies {
		if q.Who == nil {
			o.Copy = cmp.Or(o.Copy, cp)
			continue
		}
		a := fit.Try(q.Who, p, cp, q.By)
		if a.Verdict != fit.No && (o.Fit == nil || better(a.Verdict) < better(o.Fit.Verdict)) {
			o.Copy, o.Fit = cp, &a
		}
	}
	if o.Copy == nil {
		return o, false
	}
	enough := true
	o.fits, o.cuts = o.Fit == nil || o.Fit.Verdict != fit.Unknown, true
	if q.Cloth != nil {
		o.cuts, enough = o.cut(q)
	}
	o.Known = o.fits && o.cuts
	return o, enough
}

func better(v fit.Verdict) int {
	return slices.Index([]fit.Verdict{fit.Fits, fit.Blend, fit.Unknown, fit.No}, v)
}

// cut asks whether the cloth is enough for a view, and whether that is known; it
// may be enough for none. Linings and the like are cut from something else.
func (o *Offer) cut(q Question) (sure, enough bool) {
	asked := 0
	for _, a := range cloth.For(o.Pattern.Needs, q.Cloth, model.Settings{}) {
		if a.For != "" || q.Size != "" && !fit.Covers(a.Size, q.Size) {
			continue
		}
		asked++
		if a.Verdict != cloth.Short {
			o.Cloth = append(o.Cloth, a)
			sure = sure || a.Verdict == cloth.Enough
		}
	}
	return sure, asked == 0 || len(o.Cloth) > 0
}
