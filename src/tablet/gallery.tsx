// Every state of strip, gate and mark, and every part, for the builder. Not a screen, and no part of the build:
// vite builds index.html only. `?page=survey` and so on choose the page; `?theme=dark` the theme.
import { render } from 'preact';
import { GalleryPage, PAGES } from './parts/gallery/gallery-pages.tsx';
import './style/main.css';

const wanted = new URLSearchParams(location.search);
const theme = wanted.get('theme');
if (theme) document.documentElement.dataset.theme = theme;
const page = PAGES.find((name) => name === wanted.get('page')) ?? 'strips';
render(<GalleryPage page={page} />, document.getElementById('gallery')!);
