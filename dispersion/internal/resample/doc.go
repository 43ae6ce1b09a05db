// Package resample gives out random numbers, random splits, every split in
// turn, and chunks of work, so that an answer depends on the seed alone and
// never on how many cores worked on it. It deals in indices and knows nothing
// of what they stand for.
package resample
