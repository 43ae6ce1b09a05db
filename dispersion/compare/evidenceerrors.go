package compare

import "errors"

var (
	// ErrCorrelation is returned for a correlation of neighbours that can't be
	// reckoned with.
	ErrCorrelation = errors.New("the correlation of neighbouring shots must be from 0 to 0.9")

	// ErrPairs is returned where there are not as many of one kind as of the
	// other.
	ErrPairs = errors.New("pairs need as many of one as of the other")

	// ErrShare is returned for a p-value or confidence outside [0, 1].
	ErrShare = errors.New("a p-value must be from 0 to 1")

	// ErrPicking is returned for a way of picking that can't be.
	ErrPicking = errors.New("picking keeps at least 1 of at most 100 and never more than there are")

	// ErrDeviceError is returned for a device error that can't be.
	ErrDeviceError = errors.New("a device error must be finite and not below 0")

	// ErrHidden is returned where a spread is no larger than the device's own
	// error, so that nothing is left of it.
	ErrHidden = errors.New("the spread is no larger than the error of the device: nothing can be said of what is behind it")

	// ErrExpectation is returned for an expectation that is no number.
	ErrExpectation = errors.New("the expected gain must be a finite number")
)
