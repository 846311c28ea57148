package ordering

import (
	"cmp"
	"encoding/binary"
	"maps"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/filing"
)

// keyer makes the byte keys by which copies are filed: comparing two keys byte
// by byte is comparing the copies.
type keyer struct {
	sections []Section
	byPub    map[model.PublisherID]int // section of a publisher that one names
	byTag    map[string]int
	others   int
	names    []named                    // the publishers in order
	ranks    map[model.PublisherID]rank // theirs
	schemes  map[model.PublisherID]model.Scheme
}

// rank is a publisher's place among all. Ranks are spread over all that there
// are, so that publishers yet to come fit between without any other moving.
type rank uint32

// mostRank is as much as three bytes hold.
const mostRank rank = 1<<24 - 1

// named is a publisher with the key by which the name files.
type named struct {
	key  string
	rank rank
}

// nameKey is the filing key of a publisher's name. Of several filed under one
// name the number breaks the tie.
func nameKey(name string, id model.PublisherID) string {
	return string(binary.BigEndian.AppendUint32(filing.AppendName(nil, name), uint32(id)))
}

// Section is a section of the row; the last one takes what no other names.
type Section struct {
	Title  string
	NewBox bool
}

// restTitle is the title of what no section names, restAlone the same where
// there are no sections at all.
const (
	restTitle = "All others"
	restAlone = "All patterns"
)

func newKeyer(c *model.Collection) *keyer {
	k := &keyer{byPub: map[model.PublisherID]int{}, byTag: map[string]int{}, others: -1,
		ranks: map[model.PublisherID]rank{}, schemes: map[model.PublisherID]model.Scheme{}}
	for i, s := range c.Shelf().Sections {
		k.sections = append(k.sections, Section{s.Title, s.NewBox})
		for _, p := range s.Publishers {
			k.byPub[p] = i
		}
		for _, t := range s.Tags {
			k.byTag[strings.ToLower(t)] = i
		}
		if s.Others {
			k.others = i
		}
	}
	if k.others < 0 {
		title := restTitle
		if len(k.sections) == 0 {
			title = restAlone
		}
		k.others = len(k.sections)
		k.sections = append(k.sections, Section{Title: title})
	}
	type key struct {
		key string
		id  model.PublisherID
	}
	var pubs []key
	for _, p := range c.Publishers().All() {
		pubs = append(pubs, key{nameKey(p.Filing(), p.ID), p.ID})
		k.schemes[p.ID] = p.Numbers
	}
	slices.SortFunc(pubs, func(a, b key) int { return strings.Compare(a.key, b.key) })
	apart := mostRank / rank(len(pubs)+1)
	for i, p := range pubs {
		k.ranks[p.id] = rank(i+1) * apart
		k.names = append(k.names, named{p.key, k.ranks[p.id]})
	}
	return k
}

// with is the keyer after publishers were added, or false where there is no rank
// left for one: all keys have to be made anew then. No section can name them
// yet, since that is a change of the shelf.
func (k *keyer) with(publishers []*model.Publisher) (*keyer, bool) {
	if len(publishers) == 0 {
		return k, true
	}
	next := *k
	next.names, next.ranks, next.schemes = slices.Clone(k.names), maps.Clone(k.ranks), maps.Clone(k.schemes)
	for _, p := range publishers {
		key := nameKey(p.Filing(), p.ID)
		at, low, high := next.gap(key)
		if high-low < 4 {
			return nil, false // there would be no rank beside it for one yet to come
		}
		r := low + (high-low)/2
		next.names = slices.Insert(next.names, at, named{key, r})
		next.ranks[p.ID], next.schemes[p.ID] = r, p.Numbers
	}
	return &next, true
}

// gap finds where among the names a key belongs, and the ranks on either side.
func (k *keyer) gap(key string) (at int, low, high rank) {
	at, _ = slices.BinarySearchFunc(k.names, key, func(n named, key string) int { return strings.Compare(n.key, key) })
	high = mostRank
	if at > 0 {
		low = k.names[at-1].rank
	}
	if at < len(k.names) {
		high = k.names[at].rank
	}
	return at, low, high
}

// section says where a pattern is filed: by hand-picked tag first, then by
// publisher.
func (k *keyer) section(p *model.Pattern) int {
	if len(k.byTag) > 0 {
		for _, t := range p.Tags {
			if s, ok := k.byTag[strings.ToLower(t)]; ok {
				return s
			}
		}
	}
	if s, ok := k.byPub[p.Publisher]; ok {
		return s
	}
	return k.others
}

// newcomer is the rank of a publisher that is not on the list yet. Of several
// filed under one name it comes last, since its number will be the highest.
func (k *keyer) newcomer(name string) rank {
	_, low, high := k.gap(nameKey(name, 1<<32-1))
	return low + (high-low)/2
}

// appendHead writes the part of the key that says section and publisher.
func appendHead(dst []byte, section int, r rank) []byte {
	return append(dst, byte(section>>8), byte(section), byte(r>>16), byte(r>>8), byte(r))
}

// appendTitle writes the part of the key that copies of a pattern share,
// behind section and publisher, and gives the number that it took apart.
func appendTitle(dst []byte, p *model.Pattern, scheme model.Scheme) ([]byte, model.Number) {
	n := model.ParseNumber(p.Number, scheme)
	switch {
	case scheme == model.Unnumbered: // by name, whatever number there is breaks the tie
		dst = filing.AppendName(append(dst, 1), cmp.Or(p.Filing(), p.Number))
		dst = filing.AppendName(dst, p.Number)
	case n.Empty():
		dst = filing.AppendName(append(dst, 1), p.Filing())
	default:
		dst = filing.AppendNumber(append(dst, 0), n, scheme)
	}
	dst = append(dst, byte(p.Year>>8), byte(p.Year))
	dst = filing.AppendSize(dst, n.Size)
	return filing.AppendSize(dst, p.SizeRange), n
}

// key is the whole key of a copy of p, which is filed in that section.
func (k *keyer) key(dst []byte, section int, p *model.Pattern, a model.Accession) []byte {
	dst, _ = k.keyed(dst, section, p, a)
	return dst
}

// keyed is the key, and what range cards go by.
func (k *keyer) keyed(dst []byte, section int, p *model.Pattern, a model.Accession) ([]byte, numbered) {
	scheme := k.schemes[p.Publisher]
	dst = appendHead(dst, section, k.ranks[p.Publisher])
	dst, n := appendTitle(dst, p, scheme)
	return binary.BigEndian.AppendUint32(dst, uint32(a)), firstOf(n, scheme)
}
