package propose

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// usual are garment categories as people have them (common practice, no source),
// offered where none is listed yet.
var usual = []string{"Aprons", "Blouses", "Children", "Coats", "Dresses", "Hats", "Jackets", "Menswear", "Nightwear", "Shirts", "Skirts", "Stage", "Tops", "Trousers", "Underwear"}

// firstLetters is how many a category is chosen by; one is called by more.
const firstLetters = 2

// Short tells of a category that is not listed whether it was meant by its first
// letters, as those that are listed are chosen, and gives those that begin so: of
// what is listed, else of what is usual. There may be none.
func Short(c *model.Collection, name string) (begin []string, short bool) {
	fold := words.Fold(words.Clean(name))
	if fold == "" || len([]rune(fold)) > firstLetters || c.CategoryNamed(name) != nil {
		return nil, false
	}
	begins := func(n string) bool { return strings.HasPrefix(words.Fold(n), fold) }
	for _, k := range c.Categories().All() {
		if begins(k.Name) {
			begin = append(begin, k.Name)
		}
	}
	if len(begin) == 0 {
		begin = slices.DeleteFunc(slices.Clone(usual), func(n string) bool { return !begins(n) })
	}
	return begin, true
}
