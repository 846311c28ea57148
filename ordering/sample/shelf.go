package sample

import "example.org/tuckrow/model"

// The furniture of the demo: a cupboard with three long archive drawers, and a
// door with hooks on it.
const (
	boxLength = 950 * model.Millimetre
	hookRow   = "door"
	hooks     = 12
	eachHook  = 3
	folios    = "folios" // the box for magazines that are kept whole
)

// ownThickness is what the keeper measured on a handful of envelopes pressed
// together; invented, and thinner than the usual figures, since most of what is
// in the cupboard is thin old tissue.
var ownThickness = model.Thickness{Uncut: model.MM(4), Cut: model.MM(6.5), Bulky: model.MM(14)}

// binders are five; three small categories have none yet.
var binders = []model.BinderSpec{
	{Category: dresses, Pockets: 75, SubDividers: []string{
		"shift and sheath dresses", "shirt and wrap dresses", "apron and jumper dresses", "sundresses and pinafores", "tea and evening dresses"}}, {Category: tops, Pockets: 75}, {Category: bottoms, Pockets: 75},
	{Category: coats, Pockets: 75, SubDividers: []string{"coats", "jackets and blazers", "capes and boleros"}}, {Category: stage, Pockets: 75},
}

// secondBox and thirdBox are the sections at which the keeper began a box.
const (
	secondBox = "Quillon"
	thirdBox  = "Sorrelade"
)

func shelf() model.ShelfSpec {
	spec := model.ShelfSpec{Settings: model.DefaultSettings(), Binders: binders}
	spec.Settings.Thickness = ownThickness
	spec.Sections = []model.SectionSpec{
		{Title: "Harrow & Pell", Publishers: []string{harrow}},
		{Title: "Brindlecote", Publishers: []string{brindlecote}},
		{Title: secondBox, Publishers: []string{quillon}},
		{Title: "Aldervane and Tessarow", Publishers: []string{aldervane, tessarow}},
		{Title: thirdBox, Publishers: []string{sorrelade}},
		{Title: "Magazine and book", Publishers: []string{ombrevaux, book}},
		{Title: "Small houses", Publishers: []string{"*"}},
		{Title: "Unidentified", Tags: []string{model.Unidentified}},
		{Title: "Inherited", Tags: []string{inherited}},
	}
	for name, place := range list("cupboard, top drawer|cupboard, middle drawer|cupboard, bottom drawer") {
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: string(rune('1' + name)), Length: boxLength, Place: place})
	}
	for _, h := range houses {
		if h.filesAs != "" || h.scheme != "" {
			spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: h.name, FilesAs: h.filesAs, Numbers: h.scheme})
		}
	}
	spec.Oversize = []model.BoxSpec{{Name: folios, Length: 320 * model.Millimetre, Place: "beside the cupboard, on the floor"}}
	spec.Hooks = []model.HookSpec{{Name: hookRow, Hooks: hooks, Each: eachHook}}
	return spec
}
