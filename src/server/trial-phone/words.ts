/** Labels of the trial phone's frame. */
export const WORDS = {
  title: 'Trial phone',
  about:
    'Try the line as a caller hears it. Nobody is rung or paged, and the call stays out of all figures. You can play the clinician, too.',
  emergency: 'In a real emergency ring',
  noScript: 'The trial phone needs its script, which does not run.',
} as const;
