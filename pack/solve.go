package pack

import (
	"context"
	"errors"
)

// Solve finds the best layouts it can within the effort.
func Solve(ctx context.Context, p Problem, o Options) (Solution, error) {
	return Solution{}, errors.New("pack: no engine yet")
}
