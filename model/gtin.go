package model

import "example.org/tuckrow/model/gtin"

// IsGTIN tells whether text is the digits of a barcode as printed on sleeves
// and typed by a scanner: 12 or 13 digits of which the last is the check digit.
// Shorter ones are not told from a number that was typed.
func IsGTIN(text string) bool { return len(text) >= 12 && gtin.Valid(text) }
