import { mount } from 'svelte';
import './app.css';
import App from './App.svelte';
import { speak } from './words';
import { ofBrowser } from './words/language.svelte';

const target = document.getElementById('app');
// No screen is drawn in one language and then in another.
if (target) void speak(ofBrowser()).then(() => mount(App, { target }));
