package model

import (
	"fmt"
	"strconv"
	"strings"
)

// Money is an amount of the owner's money in hundredths, so that sums are exact.
// The program knows no currency.
type Money int64

// mostMoney keeps sums far from overflow.
const mostMoney Money = 100_000_000_00

// String writes an amount with two decimals: "12.50".
func (m Money) String() string {
	sign := ""
	if m < 0 {
		sign, m = "-", -m
	}
	return fmt.Sprintf("%s%d.%02d", sign, m/100, m%100)
}

func (m Money) cell() string {
	if m == 0 {
		return ""
	}
	return m.String()
}

// MarshalJSON writes an amount as a number.
func (m Money) MarshalJSON() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalJSON reads an amount as a number.
func (m *Money) UnmarshalJSON(b []byte) error {
	got, err := ParseMoney(string(b))
	*m = got
	return err
}

// ParseMoney reads "12", "12.5" or "12,50"; nothing is none. The error is a
// *FieldError.
func ParseMoney(text string) (Money, error) {
	if text == "" {
		return 0, nil
	}
	whole, part, both := strings.Cut(strings.Replace(strings.TrimSpace(text), ",", ".", 1), ".")
	n, err := strconv.ParseUint(whole, 10, 32)
	cents := uint64(0)
	if both && err == nil {
		if len(part) == 1 {
			part += "0"
		}
		if cents, err = strconv.ParseUint(part, 10, 32); len(part) != 2 && err == nil {
			err = strconv.ErrSyntax
		}
	}
	m := Money(n*100 + cents)
	if err != nil || m > mostMoney {
		return 0, &FieldError{"value", text, "is not an amount of money", "write it like 12.50, without a currency"}
	}
	return m, nil
}
