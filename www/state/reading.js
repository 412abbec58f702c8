// How bare numbers are read: in which unit, with which decimal sign.

export const readingOf = (job) => ({ unit: job.unit ?? "mm", decimal: job.decimal ?? "point" });

export const sameReading = (one, other) => one.unit === other.unit && one.decimal === other.decimal;
