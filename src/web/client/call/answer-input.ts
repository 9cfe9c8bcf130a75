/** An answer that was picked, as what is sent; and a number as it was typed. */
import type { Option, QuestionShape } from '../../../desk/contract/call-view.ts';
import type { DeskInput } from '../../../desk/contract/turns.ts';

export function answerInput(question: QuestionShape, option: Option): DeskInput {
  return { kind: 'answer', question: question.id, value: option.value, correction: null };
}

/** A comma is a decimal point; null when it is no number. */
export function typedNumber(text: string): number | null {
  const typed = text.trim().replace(',', '.');
  const value = Number(typed);
  return typed === '' || Number.isNaN(value) ? null : value;
}
