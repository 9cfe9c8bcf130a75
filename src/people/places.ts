/** The numbers, units and law of one country (`flows/places/*.yaml`); they stand nowhere else. */
import { z } from 'zod';
import { dialled, someText } from './written-forms.ts';

/** `say` is how the line speaks the number. */
const publicNumber = z.strictObject({ number: dialled, say: someText });

/** A number with what to choose once it answers; null when it answers directly. */
const route = z.strictObject({ number: dialled, say: someText, choose: someText.nullable() });

export const placeSchema = z.strictObject({
  /** ISO 3166 alpha-2. */
  country: z.string().regex(/^[A-Z]{2}$/, 'a country of two capital letters such as GB'),
  name: someText,
  emergency: publicNumber,
  urgentAdvice: publicNumber,
  crisis: route,
  poisons: route,
  /** Years; from this age a patient consents to treatment alone. */
  ageOfConsent: z.number().int().min(12).max(21),
  units: z.strictObject({
    temperature: z.enum(['celsius', 'fahrenheit']),
    weight: z.enum(['kilogram', 'pound']),
    length: z.enum(['centimetre', 'inch']),
    volume: z.enum(['millilitre', 'fluid-ounce']),
  }),
  /** Spoken before anything is recorded or transcribed. */
  recordingNotice: someText,
  /** Years that a record of care is kept after the last contact. */
  recordsKeptYears: z.number().int().min(1).max(100),
});
export type Place = z.infer<typeof placeSchema>;
