package model

import (
	"cmp"
	"fmt"
	"slices"
)

// Check tells whether the records hold together: every number that a record
// names is there, no copy stands in two places. Its error wraps ErrDamaged.
func (c *Collection) Check() error {
	for _, p := range c.patterns.All() {
		if c.Publisher(p.Publisher) == nil {
			return broken("pattern %d names publisher %d, which is not there", p.ID, p.Publisher)
		}
		if p.Category != 0 && c.Category(p.Category) == nil {
			return broken("pattern %d names category %d, which is not there", p.ID, p.Category)
		}
		for _, id := range p.Also {
			if id == p.Category || c.Category(id) == nil {
				return broken("pattern %d has a see-also entry in category %d, which is its own or not there", p.ID, id)
			}
		}
		for _, id := range p.Copied {
			if !slices.Contains(p.Also, id) {
				return broken("pattern %d has a photocopy in category %d, and no see-also entry there", p.ID, id)
			}
		}
		if err := cmp.Or(faultOf(p.Sizes, p.Needs), piecesFault(p.Pieces), c.checkLinks(p), c.checkMerged(p.Merged)); err != nil {
			return broken("pattern %d: %v", p.ID, err)
		}
	}
	for _, cp := range c.copies.All() {
		if c.Pattern(cp.Pattern) == nil {
			return broken("copy %d names pattern %d, which is not there", cp.Accession, cp.Pattern)
		}
		if cp.Print.Pages < 0 || !sane(cp.Print.Square.MM()) || !sane(cp.Print.Side.MM()) {
			return broken("copy %d was printed on %d pages with a test square of %s", cp.Accession, cp.Print.Pages, cp.Print.Square)
		}
		if err := cp.Pieces.fault(); err != nil {
			return broken("copy %d: %v", cp.Accession, err)
		}
		if cp.Batch != 0 && c.Batch(cp.Batch) == nil {
			return broken("copy %d names batch %d, which is not there", cp.Accession, cp.Batch)
		}
	}
	if err := c.checkShelf(); err != nil {
		return err
	}
	if err := cmp.Or(c.checkRows(), c.checkSigns()); err != nil {
		return err
	}
	if err := c.checkMeasures(); err != nil {
		return err
	}
	return c.checkNotes()
}

func (c *Collection) checkShelf() error {
	for _, s := range c.shelf.Sections {
		for _, p := range s.Publishers {
			if c.Publisher(p) == nil {
				return broken("section %q names publisher %d, which is not there", s.Title, p)
			}
		}
	}
	for _, b := range c.shelf.Binders {
		if c.Category(b.Category) == nil {
			return broken("binder %d names category %d, which is not there", b.ID, b.Category)
		}
	}
	return nil
}

func (c *Collection) checkRows() error {
	for id, r := range c.rows.All() {
		if _, ok := c.shelf.Box(BoxID(id)); !ok {
			return broken("a row stands in box %d, which is not there", id)
		}
		for i, a := range r.Copies {
			cp := c.Copy(a)
			if cp == nil {
				return broken("box %d holds copy %d, which is not there", id, a)
			}
			if last, _ := c.Standing(a); last != (Spot{BoxID(id), i}) {
				return broken("copy %d stands in box %d and in box %d", a, id, last.Box)
			}
			if cp.Hook.Row != 0 {
				return broken("copy %d stands in box %d and hangs on a hook", a, id)
			}
			if cp.Missing != "" {
				return broken("copy %d stands in box %d and is noted as not found", a, id)
			}
		}
	}
	return nil
}

func broken(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrDamaged, fmt.Sprintf(format, args...))
}
