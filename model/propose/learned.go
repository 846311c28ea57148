package propose

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// Learned is what the codes of one publisher have taught: how they begin, and
// how sure a number can be read out of one.
type Learned struct {
	Publisher model.PublisherID
	Prefix    string // what its codes begin with, as long as they share it, ten digits at the most
	Guess            // Sleeves of Of begin so and are of the publisher; Agree of Tried have their number at one place
}

// Learned lists what was learned, by how the codes begin. Codes of magazines are
// left out: they stand for themselves.
func (k *Known) Learned() []Learned {
	var out []Learned
	for from := 0; from < len(k.codes); {
		like := k.beginning(k.codes[from].GTIN[:shortest])
		from += len(like)
		if strings.HasPrefix(like[0].GTIN, serial) {
			continue
		}
		var done []model.PublisherID
		for _, x := range like {
			if slices.Contains(done, x.pub) {
				continue
			}
			done = append(done, x.pub)
			out = append(out, k.learnedOf(x.pub, theirs(like, x.pub)))
		}
	}
	return out
}

func (k *Known) learnedOf(pub model.PublisherID, own []coded) Learned {
	prefix := own[0].GTIN[:longest]
	for _, x := range own {
		for !strings.HasPrefix(x.GTIN, prefix) {
			prefix = prefix[:len(prefix)-1]
		}
	}
	p, l := k.c.Publisher(pub), Learned{Publisher: pub, Prefix: prefix}
	l.Guess = Guess{Publisher: p.Name, Sleeves: len(own), Of: len(k.beginning(prefix))}
	_, l.Agree, l.Tried = numberIn(own[0].GTIN, own, p.Numbers)
	return l
}
