package sample

import (
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// origin is where a pattern of the demo came from.
type origin int

const (
	own origin = iota
	firstDrawer
	secondDrawer
	parcel
	atHome // printed at home, traced or drafted; it hangs
)

// inherited is the tag by which the hand-picked section is filled.
const inherited = "inherited"

// design is one pattern of the demo as its first copy is entered.
type design struct {
	model.Entry
	from origin
}

// designs makes all patterns of the demo, house by house.
func (m *maker) designs() []design {
	var out []design
	for i := range houses {
		out = append(out, m.list(&houses[i])...)
	}
	for i := range out {
		out[i].Pattern = model.PatternID(i + 1)
	}
	return out
}

// list makes the patterns of one house.
func (m *maker) list(h *house) []design {
	n := h.total()
	numbers := make([]string, n)
	if h.numbers != nil {
		numbers = h.numbers(m, n)
	}
	var from []origin
	for o, count := range []int{h.own, h.first, h.second, h.parcel, h.hooks} {
		from = append(from, slices.Repeat([]origin{origin(o)}, count)...)
	}
	mixed := from[len(h.titles):] // the named ones come first and are the keeper's own
	m.r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	out := make([]design, n)
	for i := range out {
		d := &out[i]
		d.from, d.Publisher, d.Number = from[i], h.name, numbers[i]
		if i > 0 && otherSize(out[i-1].Number, d.Number) {
			d.Name, d.Category, d.Year, d.DatedBy = out[i-1].Name, out[i-1].Category, out[i-1].Year, out[i-1].DatedBy
			d.SizeRange = "16-24"
		} else {
			m.entitle(h, d, i)
		}
		m.condition(d)
		m.medium(h, d)
		m.sleeve(d)
	}
	if h.name == harrow {
		reuse(out)
	}
	return out
}

// otherSize tells whether b is the number a in the other size range.
func otherSize(a, b string) bool {
	n, ok := strings.CutSuffix(b, " "+largeSizes)
	return ok && a == n+" "+smallSizes
}

// entitle gives a design its name, category, sizes and year.
func (m *maker) entitle(h *house, d *design, i int) {
	k := m.kind()
	if i < len(h.titles) {
		k = kindOf(h.titles[i].category)
		d.Name = h.titles[i].name
	} else {
		d.Name = m.name(k)
	}
	d.Category = k.category
	if strings.Contains(strings.ToLower(d.Name), "trouser suit") {
		d.Also = []string{bottoms}
	}
	d.Bulky = m.chance(k.bulky)
	years := h.years
	if d.from == firstDrawer || d.from == secondDrawer {
		d.Tags, years = append(d.Tags, inherited), h.old
	}
	d.Year, d.DatedBy = m.between(years[0], years[1]), m.pick(datedBy)
	switch {
	case k.category == small:
	case k.category == children:
		d.SizeRange = m.pick(childSizes)
	case d.Year < 1976:
		d.SizeRange = m.pick(oldSizes)
	case strings.HasSuffix(d.Number, smallSizes):
		d.SizeRange = "6-14"
	case strings.HasSuffix(d.Number, largeSizes):
		d.SizeRange = "16-24"
	default:
		d.SizeRange = m.pick(modernSizes)
	}
	if h.scheme == model.Issue {
		d.Year, _ = strconv.Atoi(d.Number[3:7]) // "04/2019 112", as issues prints it
		d.DatedBy = "copyright"
	}
	if d.Year < 1990 && m.chance(18) {
		d.Year, d.DatedBy = 0, "" // nobody knows
	}
	if d.Year > 2009 && h.name == quillon && m.chance(60) {
		d.Barcode = m.barcode(d.Number)
	}
	if d.Category == stage && m.chance(50) {
		d.Tags = append(d.Tags, m.pick(list("pantomime|masque|harvest play|chorus")))
	}
}

// barcode makes a code of thirteen digits that no shop scans: 20 to 29 are kept
// for codes used inside one house (GS1 General Specifications, restricted
// circulation numbers; from memory).
func (m *maker) barcode(number string) string {
	body := "2940117" + strings.Repeat("0", 5-len(digits(number))) + digits(number)
	for check := range 10 {
		if code := body + strconv.Itoa(check); model.IsGTIN(code) {
			return code
		}
	}
	return ""
}

func digits(s string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, s)
}

// condition says what state a copy is in.
func (m *maker) condition(d *design) {
	cut := list("uncut|uncut|uncut|uncut|cut|cut|cut|partly|partly|")
	switch d.from {
	case firstDrawer, secondDrawer:
		cut = list("uncut|uncut|cut|cut|cut|partly|")
	case parcel:
		cut = list("uncut|uncut|uncut|uncut|cut")
	}
	d.Cut = model.Cut(m.pick(cut))
	switch {
	case d.Cut == model.Uncut && m.chance(80), m.chance(45):
		d.Complete = "yes"
	case d.Cut != model.Uncut && m.chance(15):
		d.Complete = m.pick(missing)
	}
	if m.chance(20) { // measured
		t := ownThickness.Uncut
		if d.Cut != model.Uncut {
			t = ownThickness.Cut
		}
		if d.Bulky {
			t = ownThickness.Bulky
		}
		d.Thickness = t + model.MM(0.5)*model.Length(m.between(-3, 3))
	}
	if m.chance(9) {
		d.Notes = m.pick(remarks)
	}
}

// medium says what a copy is made of, where it is not factory tissue.
func (m *maker) medium(h *house, d *design) {
	if d.from == atHome {
		d.Medium, d.Cut, d.Complete, d.Barcode = model.Traced, model.FullyCut, "yes", ""
		switch h.name {
		case sorrelade:
			d.Medium = model.Printed
		case drafts:
			d.Medium, d.DatedBy = model.Drafted, "copyright"
		}
		return
	}
	switch h.scheme {
	case model.BookPage:
		d.Medium, d.Home, d.Cut = model.Traced, model.HomeBox, model.FullyCut
	case model.Issue:
		if d.Medium = model.Magazine; m.chance(60) {
			d.Medium, d.Home, d.Cut = model.Traced, model.HomeBox, model.FullyCut
		}
	}
}

// sleeve says where the picture is, for what has been filed. Three categories
// have no binder yet: there it stays with the tissue.
func (m *maker) sleeve(d *design) {
	bound := slices.ContainsFunc(binders, func(b model.BinderSpec) bool { return b.Category == d.Category })
	switch {
	case d.Medium == model.Drafted, m.chance(5):
		d.Sleeve = model.SleeveMissing
	case !bound:
		d.Sleeve = model.SleeveWithTissue
	case d.Medium == model.Traced, m.chance(5):
		d.Sleeve = model.SleevePhotocopy
	default:
		d.Sleeve = model.SleeveInBinder
	}
}

// reuse gives old designs the numbers of new ones: the series of a house runs
// to its ceiling and starts again. Two of them stand beside their namesakes,
// one of these with no year to tell them apart; the others are inherited. The
// three named designs get the numbers by which the project's documents know
// them.
func reuse(of []design) {
	for i, n := range list("6123|6118|6131") {
		of[i].Number = n
	}
	olds, news := 0, 3
	for i := range of {
		d := &of[i]
		switch {
		case d.from == secondDrawer && olds < 6:
			d.Number = of[news].Number
			olds, news = olds+1, news+1
		case d.from == own && i > 20 && i%11 == 0 && news < 12:
			d.Number, d.Year, d.DatedBy, d.SizeRange = of[news].Number, 1963, "price", "14"
			if news > 8 {
				d.Year, d.DatedBy, d.Notes = 0, "", "same number as another design; look at the sleeve"
			}
			news++
		}
	}
}
