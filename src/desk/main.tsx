import './ui/fonts/european-letters.css';
import '@fontsource-variable/source-sans-3';
import './ui/styles/tokens.css';
import './ui/styles/page.css';
import './ui/styles/parts.css';
import './ui/styles/navigation.css';
import './ui/styles/data-table.css';
import { render } from 'preact';
import { App } from './app';

const root = document.getElementById('desk');
if (!root) throw new Error('The page has no place for the desk.');
render(<App />, root);
