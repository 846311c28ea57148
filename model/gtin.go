package model

// IsGTIN tells whether text is the digits of a barcode as printed on sleeves:
// 12 or 13 digits of which the last is the check digit. By the GS1 General
// Specifications the digits from the right, the check digit left out, count
// three and one times in turn, and the check digit fills up to a ten.
func IsGTIN(text string) bool {
	if n := len(text); n != 12 && n != 13 {
		return false
	}
	sum := 0
	for i := range len(text) {
		d := text[i]
		if d < '0' || d > '9' {
			return false
		}
		weight := 1
		if (len(text)-i)%2 == 0 {
			weight = 3
		}
		sum += weight * int(d-'0')
	}
	return sum%10 == 0
}
