package sample

import "example.org/tuckrow/model"

// inherits tells where what was inherited came from, of a bag of which nobody
// knows what is in it, what the collection is insured for, and what supplies
// were counted. All of it is invented.
func (t *teller) inherits(on model.Date) {
	for _, b := range []model.SetBatch{
		{Batch: "first inherited drawer", Source: "a dressmaker of the village, by her niece", Notes: "aired for a week; no mould seen"},
		{Batch: "second inherited drawer", Source: "a dressmaker of the village, by her niece", Notes: "smells of moth killer: kept apart in bags, gloves on"},
	} {
		t.tell(on, &b)
	}
	unknown := func(name, notes string) model.Entry {
		return model.Entry{Publisher: "not known", Name: name, Tags: []string{model.Unidentified}, Sleeve: model.SleeveMissing, Cut: model.FullyCut, Notes: notes}
	}
	t.enter(on, "bag from the attic", []model.Entry{
		unknown("Long gown, high collar, nine pieces", "tissue without print, holes punched in place of notches; bust 32 in pencil"),
		unknown("Child's coat, five pieces", "no sleeve, half a guide sheet"),
	})
	t.tell(on, &model.SetBatch{Batch: "bag from the attic", Source: "found when the loft was cleared; not known whose"})
	t.checksPrints(on)
	for _, g := range []model.SetWorth{{Of: inherited, Each: 14_00}, {Of: book, Each: 3_00}, {Of: quillon, Each: 6_50}, {Each: 4_00}} {
		t.tell(on, &g)
	}
	for _, s := range []model.SetStock{{Item: model.EnvelopeStock, Have: 60}, {Item: model.PocketStock, Have: 10}, {Item: model.CardStock, Have: 12}, {Item: model.OutCardStock, Have: 5}} {
		t.tell(on, &s)
	}
}

// checksPrints notes what is known of the first prints: one was printed fitted to
// the page.
func (t *teller) checksPrints(on model.Date) {
	prints := []model.Print{
		{Pages: 32, Paper: "A4", Square: model.MM(100), Side: model.MM(100), Assembled: true, Version: "2"},
		{Pages: 24, Paper: "A4", Square: model.MM(96.5), Side: model.MM(100)},
		{Pages: 6, Paper: "A0", Square: model.MM(50), Side: model.MM(50), Version: "1.1"},
	}
	for _, cp := range t.c.Copies().All() {
		if cp.Medium == model.Printed && len(prints) > 0 {
			en := t.c.EntryOf(cp)
			en.Print, prints = prints[0], prints[1:]
			t.tell(on, &model.Revise{Entry: en})
		}
	}
}
