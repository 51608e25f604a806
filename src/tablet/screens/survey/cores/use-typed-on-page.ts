import { useEffect } from 'preact/hooks';

/** What a scanner types while no field has the focus goes into the field that `focus` enters. The map keeps its own keys. */
export function useTypedOnPage(wanted: boolean, focus: () => void): void {
  useEffect(() => {
    if (!wanted) return;
    const onKeyDown = (event: KeyboardEvent) => {
      const at = event.target as HTMLElement;
      if (at.closest('input, textarea, select, dialog') || event.ctrlKey || event.metaKey || event.altKey) return;
      if (document.querySelector('dialog[open]')) return;
      // The browser then puts this very character into the field.
      if (event.key.length === 1 && event.key !== ' ') focus();
    };
    addEventListener('keydown', onKeyDown);
    return () => removeEventListener('keydown', onKeyDown);
  }, [wanted]);
}
