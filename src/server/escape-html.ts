/** Makes any text safe to stand in HTML, between tags or inside a quoted attribute. */

const SAFE: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (letter) => SAFE[letter] ?? letter);
}
