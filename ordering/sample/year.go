package sample

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// sewing tells what the keeper has noted beside the filing: who is sewn for,
// the cloth that is there, what some sleeves ask for, what was made, what is to
// be made, and what is to be bought. Bodies, cloth and needs are invented; the
// charts of sizes are those of the misses' table.
func (t *teller) sewing(on model.Date) {
	for _, p := range []model.Person{
		{Name: "Ada", Bust: model.MM(920), Waist: model.MM(730), Hip: model.MM(980), Height: model.MM(1680), On: "2025-09-06"},
		{Name: "Ilse", Bust: model.MM(1010), Waist: model.MM(840), Hip: model.MM(1060), On: "2025-09-06", Notes: "chorus; likes room at the arms"},
	} {
		t.tell(on, &model.SetPerson{Person: p})
	}
	for _, c := range []model.Cloth{
		{Name: "blue wool", Width: model.MM(1400), Length: model.MM(2600), OneWay: true},
		{Name: "striped cotton", Width: model.MM(1150), Length: model.MM(3200)},
		{Name: "curtain lining", Width: model.MM(900), Length: model.MM(6000), Notes: "for trying out"},
	} {
		t.tell(on, &model.SetCloth{Cloth: c})
	}
	t.sleeve(on, harrow, "6123", "14 | 36 in | 28 in | 38 in; 16 | 38 in | 30 in | 40 in; 18 | 40 in | 32 in | 42 in; 20 | 42 in | 34 in | 44 in",
		"A | 14-20 | 45 in | 3 5/8 yd; A | 14-20 | 60 in | 2 3/4 yd; B | 14-16 | 45 in | 3 yd; B | 18-20 | 45 in | 3 1/4 yd", "front; back; skirt front; skirt back; tie; facing", "14-18")
	t.sleeve(on, harrow, "6131", "8 | 31 1/2 in | 24 in | 33 1/2 in; 10 | 32 1/2 in | 25 in | 34 1/2 in; 12 | 34 in | 26 1/2 in | 36 in; 14 | 36 in | 28 in | 38 in",
		"| 8-14 | 45 in | 2 1/4 yd", "", "")
	t.sleeve(on, quillon, "K837", "", "| 8-14 | 60 in | 3 yd; | 8-14 | 45 in | 2 1/2 yd | lining", "", "")
	wrap, skirt := t.pattern(harrow, "6123"), t.pattern(harrow, "6118")
	t.tell(on, &model.SetLink{A: wrap, B: skirt})
	for _, m := range []model.Make{
		{On: "2025-04-19", Pattern: wrap, For: "Ada", View: "B", Size: "14", Cloth: "striped cotton", Changed: "bodice 20 mm longer", Better: "line the skirt"},
		{On: "2025-07-05", Pattern: t.pattern(quillon, "Q396"), For: "the chorus", Size: "12", Cloth: "old curtains"},
		{On: "2025-08-30", Pattern: t.pattern(harrow, "6976"), For: "Ilse", Size: "18"},
		{On: "2025-10-11", Pattern: wrap, For: "Ilse", View: "A", Size: "18", Cloth: "green crepe", Better: "tie 100 mm longer"},
	} {
		t.tell(on, &model.Sewn{Make: m})
	}
	for _, q := range []model.Queued{
		{Pattern: t.pattern(quillon, "K837"), For: "Ada", Cloth: "blue wool", By: "2026-02-14"},
		{Pattern: t.pattern(harrow, "6131"), For: "Ada", Cloth: "striped cotton", Notes: "for the spring fair"},
	} {
		t.tell(on, &model.Enqueue{Item: q})
	}
	t.tell(on, &model.SetGoal{Goal: model.Goal{Name: "harvest play", Since: "2025-03-01", Of: []string{coats, nightly, "dress", "beret"}}})
	for _, w := range []model.Wish{
		{Publisher: harrow, Number: "6240", Name: "Circle skirt", SizeRange: "8-16", Category: bottoms, Notes: "for the harvest play"},
		{Publisher: quillon, Number: "Q705", Name: "Swing coat", SizeRange: "10-18", Category: coats, Ordered: "2025-11-28", Expected: "2025-12-18", From: "a sale by post"},
		{Publisher: "Fennimarsh", Name: "Nightshirt with a hood"},
	} {
		t.tell(on, &model.Want{Wish: w})
	}
}

// sleeve notes what stands on a sleeve besides, and which sizes are left.
func (t *teller) sleeve(on model.Date, publisher, number, sizes, needs, pieces, left string) {
	id := t.pattern(publisher, number)
	for _, cp := range t.c.Copies().All() {
		if cp.Pattern != id {
			continue
		}
		en := t.c.EntryOf(cp)
		for name, text := range map[string]string{"size_chart": sizes, "cloth_needed": needs, "pieces": pieces, "sizes_left": left} {
			f, ok := model.FieldNamed(name)
			if err := f.Set(&en, text); err != nil || !ok {
				panic(fmt.Sprintf("sample: what stands on the sleeve of %s cannot be: %v", t.c.Called(id), err))
			}
		}
		t.tell(on, &model.Revise{Entry: en})
		return
	}
}

// pattern is the first one of that number.
func (t *teller) pattern(publisher, number string) model.PatternID {
	var all []model.PatternID
	for _, p := range t.c.Patterns().All() {
		if p.Number == number && t.c.Publisher(p.Publisher).Name == publisher {
			all = append(all, p.ID)
		}
	}
	if len(all) == 0 {
		panic(fmt.Sprintf("sample: the story has no %s %s", publisher, number))
	}
	return slices.Min(all)
}
