package sample

import (
	"math/rand/v2"
	"strings"
	"unicode"
	"unicode/utf8"
)

// kind is a garment category with the words that its names are made of. The
// lists are long enough that a few hundred names come out all different.
type kind struct {
	category string
	weight   int // how often, against the others
	bulky    int // of a hundred, how many are of several layers or garments
	how      []string
	what     []string
	with     []string
}

// The categories of the invented cupboard.
const (
	dresses  = "Dresses"
	tops     = "Blouses and shirts"
	bottoms  = "Skirts and trousers"
	coats    = "Coats and jackets"
	stage    = "Stage and period"
	children = "Children"
	nightly  = "Nightwear"
	small    = "Hats and small things"
)

var kinds = []kind{
	{dresses, 24, 4,
		list("bias-cut|square-necked|puff-sleeved|panelled|belted|high-waisted|sleeveless|buttoned|half-circle|smocked|cross-over|cowl-necked"),
		list("tea dress|shift dress|shirt dress|pinafore|sundress|evening dress|jumper dress|sheath dress|apron dress|coat dress"),
		list("patch pockets|a yoke|cap sleeves|a tie belt|a gathered skirt|a scalloped hem")},
	{tops, 17, 0,
		list("raglan|yoked|tucked|frilled|wing-collared|long-sleeved|boat-necked|boxy|dolman|gathered|bow-necked"),
		list("blouse|shirt|tunic|camisole|smock top|waistcoat|overblouse|shell top|peplum top"),
		list("French cuffs|a tie neck|pin tucks|a stand collar|a shaped hem|two pockets")},
	{bottoms, 17, 2,
		list("six-gored|box-pleated|tiered|A-line|wide-legged|slim|tapered|high-waisted|side-buttoned|gathered|kick-pleated"),
		list("skirt|trousers|culottes|breeches|shorts|overalls|wrap skirt|dirndl skirt|knickerbockers"),
		list("a shaped band|slant pockets|turn-ups|a hip yoke|braces|a back zip")},
	{coats, 12, 55,
		list("double-breasted|belted|swagger|quilted|half-lined|collarless|loose|fitted|hooded|reversible"),
		list("coat|jacket|cape|raincoat|duffel coat|car coat|blazer|bolero|trouser suit"),
		list("a shawl collar|set-in pockets|raglan sleeves|a back vent|a storm flap")},
	{stage, 12, 18,
		list("laced|boned|full|slashed|ruffed|trained|padded|trimmed|open-fronted"),
		list("doublet|bustle skirt|farthingale|tabard|frock coat|chemise|mob cap and apron|jerkin|polonaise|toga and stola|tailcoat"),
		list("hanging sleeves|a stomacher|a high collar|false lacing|a drawn neck")},
	{children, 8, 3,
		list("smocked|buttoned|striped|round-collared|hooded|easy|frilled"),
		list("romper|sailor suit|party frock|play dungarees|school tunic|pinafore frock|duffel jacket"),
		list("knee patches|a round yoke|pockets|long sleeves")},
	{nightly, 5, 0,
		list("long|short|quilted|yoked|ribbon-tied|flannel"),
		list("nightgown|pyjamas|dressing gown|bed jacket|nightshirt|slip"),
		list("lace insertion|piped edges|a drawstring")},
	{small, 5, 0,
		list("felt|stiffened|draped|lined|quilted|eight-piece"),
		list("bonnet|cloche|shoulder bag|gauntlets|spats|beret|muff|apron"),
		list("a brim|a bow|ear flaps|two straps")},
}

// small ranges and words that entries draw from.
var (
	modernSizes = list("6-12|8-14|8-16|10-16|10-18|12-18|14-20|16-24|S-L|M-XXL")
	oldSizes    = list("10|12|14|16|18|20|bust 34|bust 36|bust 38")
	childSizes  = list("2-6|3-8|4-10|6-12")
	datedBy     = list("copyright|copyright|copyright|postmark|price|guess")
	missing     = list("piece 3 missing|piece 7 missing|guide sheet missing|collar missing|pocket piece missing")
	remarks     = list("hem let down 20 mm|worn in the harvest play|tissue mended with paper tape|sleeve faded|view B only|wants lining|pencil marks on the bodice pieces")
)

func list(s string) []string { return strings.Split(s, "|") }

// kindOf finds a category's words.
func kindOf(category string) *kind {
	for i := range kinds {
		if kinds[i].category == category {
			return &kinds[i]
		}
	}
	return nil
}

// maker draws entries; all chance of the package goes through one.
type maker struct {
	r    *rand.Rand
	used map[string]bool // names already given; nil when names may come again
}

// newMaker makes a maker. The second half of the generator's seed is fixed: it
// only has to be the same each time.
func newMaker(seed uint64) *maker { return &maker{r: rand.New(rand.NewPCG(seed, 0x7c4a1d05e6))} }

func (m *maker) pick(from []string) string { return from[m.r.IntN(len(from))] }

// chance is true in percent of a hundred cases.
func (m *maker) chance(percent int) bool { return m.r.IntN(100) < percent }

// kind draws a category by weight.
func (m *maker) kind() *kind {
	n := m.r.IntN(100) // the weights add up to a hundred
	for i := range kinds {
		if n -= kinds[i].weight; n < 0 {
			return &kinds[i]
		}
	}
	return &kinds[len(kinds)-1]
}

// name makes a name of two words or more, one that was not given before where
// the maker keeps note.
func (m *maker) name(k *kind) string {
	for {
		s := m.pick(k.how) + " " + m.pick(k.what)
		if m.chance(40) {
			s += " with " + m.pick(k.with)
		}
		s = capital(s)
		if m.used == nil {
			return s
		}
		if !m.used[s] {
			m.used[s] = true
			return s
		}
	}
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// between is a whole number from lo to hi, both included.
func (m *maker) between(lo, hi int) int { return lo + m.r.IntN(hi-lo+1) }

// numbers gives n different whole numbers from lo to hi, in no order.
func (m *maker) numbers(n, lo, hi int) []int {
	seen, out := map[int]bool{}, make([]int, 0, n)
	for len(out) < n {
		if v := m.between(lo, hi); !seen[v] {
			seen[v] = true
			out = append(out, v)
		}
	}
	return out
}
