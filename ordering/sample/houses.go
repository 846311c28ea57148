package sample

import (
	"fmt"

	"example.org/tuckrow/model"
)

// house is an invented publisher and how many of its patterns came from where.
type house struct {
	name, filesAs string
	scheme        model.Scheme
	numbers       func(m *maker, n int) []string // n different ones; nil: by name only
	years         [2]int                         // of what the keeper bought
	old           [2]int                         // of what was inherited
	own           int                            // in the cupboard before
	first, second int                            // in the two inherited drawers
	parcel        int                            // in the parcel still to be filed
	hooks         int                            // printed at home, traced, drafted
	titles        []title                        // used first, in place of made-up names
}

// title is a name that is not made up of words.
type title struct{ name, category string }

func (h *house) total() int { return h.own + h.first + h.second + h.parcel + h.hooks }

// The larger houses.
const (
	harrow      = "Harrow & Pell"
	brindlecote = "Brindlecote"
	quillon     = "Quillon"
	aldervane   = "The Aldervane Pattern Service"
	tessarow    = "Tessarow"
	ombrevaux   = "Ombrévaux"
	book        = "Cutting for a Lantern Stage"
	sorrelade   = "Sorrelade"
	drafts      = "Wardrobe drafts"
)

// houses are the publishers of the demo: nine with many patterns, each with
// another way of numbering, and eleven small ones.
var houses = []house{
	{name: harrow, filesAs: "Harrow and Pell", numbers: plain(4000, 6990), years: [2]int{1986, 2021}, old: [2]int{1951, 1974},
		own: 58, first: 4, second: 20, parcel: 4, hooks: 2,
		titles: []title{{"Wrap dress", dresses}, {"Wrap skirt", bottoms}, {"Shift dress", dresses}}},
	{name: brindlecote, numbers: twoSizes(6000, 6999), years: [2]int{1992, 2023}, own: 50, parcel: 4, hooks: 2},
	{name: quillon, numbers: prefixed("Q", "Q", "Q", "K", ""), years: [2]int{1978, 2024}, own: 48, parcel: 5, hooks: 3},
	{name: aldervane, filesAs: "Aldervane Pattern Service", numbers: plain(118, 2890), years: [2]int{1938, 1962}, old: [2]int{1932, 1968},
		own: 20, first: 21, second: 11, parcel: 2},
	{name: tessarow, scheme: model.PrefixFirst, numbers: prefixed("D", "E", "M"), years: [2]int{1999, 2024}, own: 36, parcel: 3, hooks: 1},
	{name: ombrevaux, scheme: model.Issue, numbers: issues, years: [2]int{2008, 2023}, own: 22, parcel: 2, hooks: 6,
		titles: []title{{"Robe d'été à bretelles", dresses}, {"Veste croisée", coats}, {"Jupe évasée", bottoms}, {"Chemisier à jabot", tops}, {"Manteau à col châle", coats}}},
	{name: book, scheme: model.BookPage, numbers: pages, years: [2]int{1997, 1997}, own: 12, hooks: 4},
	{name: sorrelade, scheme: model.Unnumbered, years: [2]int{2012, 2024}, own: 18, hooks: 10,
		titles: []title{{"Φούστα με πιέτες", bottoms}, {"חולצת מלחים", tops}, {"割烹着", small}}},
	{name: drafts, scheme: model.Unnumbered, years: [2]int{2009, 2024}, hooks: 8},

	{name: "Okkerby", numbers: plain(12, 480), years: [2]int{1988, 2010}, own: 3, parcel: 1},
	{name: "Dunmarrow Sisters", numbers: plain(100, 990), years: [2]int{1970, 1995}, old: [2]int{1948, 1966}, own: 3, second: 3},
	{name: "Fennimarsh", numbers: prefixed("F"), years: [2]int{1994, 2015}, own: 3},
	{name: "Jørnvik Søm", numbers: plain(10, 99), years: [2]int{2003, 2019}, own: 3,
		titles: []title{{"Søndagskjole", dresses}, {"Blåkittel", tops}}},
	{name: "Łątkowa Nić", scheme: model.Unnumbered, years: [2]int{2016, 2020}, own: 1, titles: []title{{"Spódnica z koła", bottoms}}},
	{name: "The Pinfold Circle", filesAs: "Pinfold Circle", numbers: plain(1, 60), years: [2]int{1981, 1999}, own: 5},
	{name: "Costura Almendrín", numbers: plain(200, 700), years: [2]int{2001, 2018}, own: 3,
		titles: []title{{"Falda de volantes", bottoms}, {"Niñera con peto", children}}},
	{name: "Mirelune", numbers: plain(1000, 2999), years: [2]int{1990, 2014}, old: [2]int{1936, 1959}, own: 2, first: 1, second: 3},
	{name: "Grissenthal", numbers: plain(20, 900), old: [2]int{1929, 1955}, first: 2, second: 3},
	{name: "Hask & Daughter", filesAs: "Hask and Daughter", numbers: plain(300, 399), years: [2]int{2010, 2022}, own: 4, parcel: 1},
	{name: "The Tolling Needle", scheme: model.Unnumbered, years: [2]int{2015, 2024}, own: 3}, // files under "The": its keeper looks there
}

// moreHouses fill up the list of publishers for the cupboards of any size.
var moreHouses = list("Averlock Mode|Bestrind|Cadwend|Dorrimoor|Eskelby|Fallowick & Finn|Gantrelle|Ivrenne|Jessamarsh|" +
	"Kestrelow|Lindravale|Merrowick|Norrisand|Osterfell|Perrivane|Quennelby|Silverhask|Tarrowfen|The Umberlea Rooms|Vinterlyng|Wrenhalse")

func plain(lo, hi int) func(*maker, int) []string {
	return func(m *maker, n int) []string {
		out := make([]string, n)
		for i, v := range m.numbers(n, lo, hi) {
			out[i] = fmt.Sprint(v)
		}
		return out
	}
}

// prefixed puts letters before numbers of three digits; the same letter more
// than once makes it commoner.
func prefixed(letters ...string) func(*maker, int) []string {
	return func(m *maker, n int) []string {
		out := make([]string, n)
		for i, v := range m.numbers(n, 101, 899) {
			out[i] = m.pick(letters) + fmt.Sprint(v)
		}
		return out
	}
}

// The size codes of a house that sells one number in two sleeves.
const smallSizes, largeSizes = "H5", "M5"

// twoSizes prints a size-range code behind the number; four numbers of five
// come in both, one behind the other.
func twoSizes(lo, hi int) func(*maker, int) []string {
	return func(m *maker, n int) []string {
		out := make([]string, 0, n+1)
		for i, v := range m.numbers(n, lo, hi) {
			if len(out) >= n {
				break
			}
			out = append(out, fmt.Sprintf("%d %s", v, smallSizes))
			if i%5 != 4 {
				out = append(out, fmt.Sprintf("%d %s", v, largeSizes))
			}
		}
		return out[:n]
	}
}

// issues prints month, year and style, as magazines do.
func issues(m *maker, n int) []string {
	seen, out := map[string]bool{}, make([]string, 0, n)
	for len(out) < n {
		s := fmt.Sprintf("%02d/%d %d", m.between(1, 12), m.between(2008, 2023), m.between(101, 138))
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

func pages(m *maker, n int) []string {
	out := make([]string, n)
	for i, v := range m.numbers(n, 18, 160) {
		out[i] = fmt.Sprintf("p. %d", v)
	}
	return out
}
