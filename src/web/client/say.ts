/** Says a short sentence to a screen reader, politely. */

export function say(text: string): void {
  const place = document.getElementById('said');
  if (place !== null) place.textContent = text;
}
