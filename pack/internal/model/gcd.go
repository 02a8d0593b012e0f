package model

// GCD returns the greatest common divisor of a and b, which is never negative;
// that of 0 and a is a. Lengths, costs and values are divided by it, so that
// tables are small and a bound rises in whole steps.
func GCD[T ~int64](a, b T) T {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, -a)
}
