package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// decimal reads a number with point or comma and at most two places as
// hundredths, exactly: "3.25" is 325, "3,5" is 350. Signs, exponents and
// thousands separators are refused. The second result is false for anything
// else and for more than 12 digits.
func decimal(s string) (hundredths int64, ok bool) { return decimals(s, 2) }

// decimals is decimal for other numbers of places: the result counts units of
// the last one.
func decimals(s string, most int) (n int64, ok bool) {
	whole, places, split := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
	if !digits(whole) || len(whole) > 12 || split && (!digits(places) || len(places) > most) {
		return 0, false
	}
	n, err := strconv.ParseInt(whole+places+strings.Repeat("0", most-len(places)), 10, 64)
	return n, err == nil
}

func digits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// percent reads "5%", "2.5 %" or "2,25%" as hundredths of a percent.
func percent(s string) (int, error) {
	number, ok := strings.CutSuffix(strings.TrimSpace(s), "%")
	number = strings.TrimSpace(number)
	h, fine := decimal(number)
	switch {
	case strings.HasPrefix(number, "-") || strings.HasPrefix(number, "−"):
		return 0, fmt.Errorf("%q is negative: write a percentage like 5%%", s)
	case !fine:
		return 0, fmt.Errorf("cannot read %q as a percentage: write one like 5%% or 2.5%%", s)
	case !ok:
		return 0, fmt.Errorf("%q has no percent sign: write %s%%", s, number)
	case h > 1_000_000:
		return 0, fmt.Errorf("%q is too much: write a percentage like 5%%", s)
	}
	return int(h), nil
}

// maxPrice bounds every price, in the smallest coin.
const maxPrice = 100_000_000

// price reads "3.25", "3,25" or "3" as the smallest coin, 100 of which make one.
func price(s string) (int64, error) {
	t := strings.TrimSpace(s)
	h, ok := decimal(t)
	switch {
	case strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−"):
		return 0, fmt.Errorf("price %q is negative: write one like 3.25", s)
	case !ok:
		return 0, fmt.Errorf("cannot read %q as a price: write a number with at most two decimals and no sign of money, like 3.25", s)
	case h > maxPrice:
		return 0, fmt.Errorf("price %q is too much: write at most %d", s, maxPrice/100)
	}
	return h, nil
}

// finePrice is price with up to four decimals, as hundredths of the smallest
// coin: a pin costs less than one.
func finePrice(s string) (int64, error) {
	t := strings.TrimSpace(s)
	h, ok := decimals(t, 4)
	switch {
	case strings.HasPrefix(t, "-") || strings.HasPrefix(t, "−"):
		return 0, fmt.Errorf("price %q is negative: write one like 0.02", s)
	case !ok:
		return 0, fmt.Errorf("cannot read %q as a price: write a number with at most four decimals and no sign of money, like 0.02", s)
	case h > 100*maxPrice:
		return 0, fmt.Errorf("price %q is too much: write at most %d", s, maxPrice/100)
	}
	return h, nil
}

// whole reads a whole number between least and most.
func whole(s string, least, most int) (int, error) {
	t := strings.TrimSpace(s)
	switch {
	case strings.HasPrefix(t, "-") && digits(t[1:]):
		return 0, fmt.Errorf("%q is negative: write a whole number from %d to %d", s, least, most)
	case !digits(t):
		return 0, fmt.Errorf("%q is not a whole number: write one from %d to %d", s, least, most)
	}
	n, err := strconv.Atoi(t)
	switch {
	case err != nil || n > most:
		return 0, fmt.Errorf("%s is too many: write a whole number up to %d", t, most)
	case n < least:
		return 0, fmt.Errorf("%s is too few: write a whole number from %d", t, least)
	}
	return n, nil
}
