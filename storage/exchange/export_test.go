package exchange

import (
	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// What the tests of package exchange_test need. They go through a store, and
// package storage imports this one.
var (
	AnyCupboard = anyCupboard
	AnyMeasured = anyMeasured
)

// AnyChange is any change to a cupboard, in which names and numbers meet again and
// again.
func AnyChange(t *rapid.T, c *model.Collection) model.Change { return alikes{t, c}.change() }

// Furniture is what there is to begin with.
var Furniture = furniture
