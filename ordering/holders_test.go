package ordering_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// What hangs goes onto the hooks in filing order, so many each; each copy that
// belongs on a hook hangs once, and no other.
func TestHooks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawShelf(t, 2, roomy, false)
		spec.Hooks = append(spec.Hooks, rapid.SampledFrom([][]model.HookSpec{nil, {{Name: "wall", Hooks: 2, Each: 1}}}).Draw(t, "more hooks")...)
		c := drawCollection(t, 20, spec)
		hooks, shelf := ordering.Arrange(c).Hooks(), c.Shelf()
		var hung []model.Accession
		for i, h := range hooks {
			if len(h.Items) > h.Row.Each || h.New && len(h.Items) == 0 || h.New != (h.Row.ID == 0) {
				t.Fatalf("hook %d of row %q holds %d of %d, new %v", h.N, h.Row.Name, len(h.Items), h.Row.Each, h.New)
			}
			if len(h.Items) < h.Row.Each && i+1 < len(hooks) && len(hooks[i+1].Items) > 0 {
				t.Fatalf("hook %d of row %q has room, and the next is in use", h.N, h.Row.Name)
			}
			hung = append(hung, accessions(h.Items)...)
		}
		there, belong := 0, 0
		for _, r := range shelf.Hooks {
			there += r.Hooks
		}
		for _, cp := range c.Copies().All() {
			belong += b2i(shelf.Hangs(cp))
		}
		if len(hooks) < there || len(hung) != belong {
			t.Fatalf("%d hooks of %d, %d copies of %d that hang", len(hooks), there, len(hung), belong)
		}
		// The same copies in boxes stand in the order in which they hang.
		var inBoxes []model.Accession
		boxed := c
		for _, a := range hung {
			if !shelf.Hangs(c.Copy(a)) {
				t.Fatalf("copy %d hangs and belongs in a box", a)
			}
			en := boxed.EntryOf(boxed.Copy(a))
			en.Home = model.HomeBox
			boxed = do(t, boxed, &model.Revise{Entry: en})
		}
		for _, a := range accessions(ordering.Arrange(boxed).Row()) {
			if shelf.Hangs(c.Copy(a)) {
				inBoxes = append(inBoxes, a)
			}
		}
		if !slices.Equal(hung, inBoxes) {
			t.Fatalf("on hooks %v, in filing order %v", hung, inBoxes)
		}
	})
}
