package analyze

// memo keeps what was measured over the whole capture, for what asks it again at each
// move or event. What it holds must not change afterwards.
type memo[T any] struct {
	known bool
	value T
}

// of is the value, measured at the first call.
func (m *memo[T]) of(measure func() T) T {
	if !m.known {
		m.value, m.known = measure(), true
	}
	return m.value
}
