import './hatch-defs.css';

/** The hatch that every drawing shares: lines at 45°, 5 px apart. Stands once in the page; AppFrame brings it. */
export function HatchDefs() {
  return (
    <svg class="hatch-defs" width="0" height="0" aria-hidden="true">
      <defs>
        {['hatch', 'hatch-reversed'].map((id) => (
          <pattern key={id} id={id} width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line x1="0" y1="0" x2="0" y2="5" />
          </pattern>
        ))}
      </defs>
    </svg>
  );
}
