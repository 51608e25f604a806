import { useEffect } from 'preact/hooks';

/** What a keyboard or a typing gauge sends while no field has the focus goes into the field that `focus` enters. */
export function useTypingAnywhere(focus: () => void, enter: () => void): void {
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent) => {
      const at = event.target as HTMLElement;
      if (at.closest('input, textarea, select, dialog') || event.ctrlKey || event.metaKey || event.altKey) return;
      if (document.querySelector('dialog[open]')) return;
      if (event.key === 'Enter' && at === document.body) enter();
      // The browser then puts this very character into the field.
      else if (/^[\d.,+\u2212-]$/.test(event.key)) focus();
    };
    addEventListener('keydown', onKeyDown);
    return () => removeEventListener('keydown', onKeyDown);
  });
}
