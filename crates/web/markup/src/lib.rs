//! `view!`: markup, made into calls of `crate::dom` that are one code for all screens; `#[component]`: a function with named
//! arguments for it.
//!
//! What `view!` knows: elements, text in quotes, `{expressions}`, attributes (`class=x`), `on:event=`, `prop:value=`,
//! `class:name=`, `node_ref=`, components (a name that begins with a capital letter, every argument by its name),
//! `<Show when=..>` and `<For each=.. key=.. let:x>`. Anything else is an error at its place.

mod component;

use proc_macro2::{Span, TokenStream};
use quote::{quote, quote_spanned};
use rstml::node::{KeyedAttribute, KeyedAttributeValue, Node, NodeAttribute, NodeBlock, NodeElement, NodeName};
use syn::spanned::Spanned;
use syn::{Expr, Ident, LitStr, Stmt};

type Result<T> = core::result::Result<T, syn::Error>;
type Element = NodeElement<rstml::Infallible>;

/// Elements that only a drawing has. What both have (`a`, `title`, `style`) belongs to the drawing inside of `<svg>`.
const DRAWN: &[&str] = &[
    "svg", "g", "path", "line", "circle", "ellipse", "rect", "polygon", "polyline", "text", "tspan", "defs", "marker",
    "pattern", "symbol", "use", "clipPath", "mask", "desc",
];

/// See the crate.
#[proc_macro]
pub fn view(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let made = rstml::parse2(input.into()).and_then(|nodes| view_of(&nodes, false));
    made.unwrap_or_else(|e| e.to_compile_error()).into()
}

/// `#[component] fn Field(label: String) -> impl IntoView { .. }`: what `<Field label=.. />` of [`view!`] calls. It gives
/// `Nodes`; what it reads by itself, and not in a closure, is not followed.
#[proc_macro_attribute]
pub fn component(_: proc_macro::TokenStream, input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let function = syn::parse_macro_input!(input as syn::ItemFn);
    component::of(function).unwrap_or_else(|e| e.to_compile_error()).into()
}

/// The kind of an event, by its name.
fn kind_of(event: &str) -> Ident {
    let kind = match event {
        "click" => "MouseEvent",
        _ if event.contains("pointer") => "PointerEvent",
        _ if event.starts_with("key") => "KeyboardEvent",
        _ => "Event",
    };
    Ident::new(kind, Span::call_site())
}

/// The element that is being made, by a name that no screen can mean.
fn el() -> Ident {
    Ident::new("el", Span::mixed_site())
}

fn fault<T>(at: Span, text: &str) -> Result<T> {
    Err(syn::Error::new(at, text))
}

/// One expression that gives `Nodes`.
fn view_of(nodes: &[Node], svg: bool) -> Result<TokenStream> {
    let parts = nodes.iter().map(|n| node(n, svg)).collect::<Result<Vec<_>>>()?;
    Ok(match parts.as_slice() {
        [one] => one.clone(),
        many => quote! { crate::dom::Nodes::empty()#(.and(#many))* },
    })
}

fn node(n: &Node, svg: bool) -> Result<TokenStream> {
    match n {
        Node::Text(t) => {
            let text = &t.value;
            Ok(quote! { crate::dom::text(#text) })
        }
        Node::Block(b) => {
            let inside = inside(b);
            Ok(quote_spanned! { b.span() => crate::dom::IntoView::into_view(#inside) })
        }
        Node::Fragment(f) => view_of(&f.children, svg),
        Node::Element(e) => element(e, svg),
        Node::RawText(t) => {
            let text = t.to_string_best();
            if text.trim().is_empty() {
                Ok(quote! { crate::dom::Nodes::empty() })
            } else {
                fault(t.span(), "text stands in quotes here")
            }
        }
        other => fault(other.span(), "elements, text in quotes and {expressions} are known here"),
    }
}

/// What stands in braces; without them where it is one expression.
fn inside(block: &NodeBlock) -> TokenStream {
    if let NodeBlock::ValidBlock(b) = block
        && let [Stmt::Expr(e, None)] = b.stmts.as_slice()
    {
        return quote!(#e);
    }
    quote!(#block)
}

fn element(e: &Element, svg: bool) -> Result<TokenStream> {
    let name = e.name().to_string();
    match name.as_str() {
        "Show" => show(e, svg),
        "For" => each(e, svg),
        _ if name.rsplit("::").next().is_some_and(|n| n.starts_with(char::is_uppercase)) => called(e),
        _ => plain(e, &name, svg),
    }
}

fn plain(e: &Element, name: &str, svg: bool) -> Result<TokenStream> {
    let svg = svg || DRAWN.contains(&name);
    let tag = LitStr::new(name, e.name().span());
    let new = if svg { quote!(drawn) } else { quote!(element) };
    let mut out = TokenStream::new();
    for a in e.attributes() {
        out.extend(attribute(keyed(a)?)?);
    }
    let here = el();
    for child in &e.children {
        match child {
            Node::Text(t) => {
                let text = &t.value;
                out.extend(quote! { #here.text(#text); });
            }
            other => {
                let child = node(other, svg)?;
                out.extend(quote! { #here.child(#child); });
            }
        }
    }
    Ok(quote! { { let #here = crate::dom::#new(#tag); #out #here.view() } })
}

fn keyed(a: &NodeAttribute) -> Result<&KeyedAttribute> {
    match a {
        NodeAttribute::Attribute(a) => Ok(a),
        NodeAttribute::Block(b) => fault(b.span(), "an attribute with a name is expected: name=value"),
    }
}

fn value(a: &KeyedAttribute) -> Option<&Expr> {
    a.value()
}

fn wanted(a: &KeyedAttribute) -> Result<&Expr> {
    value(a).map_or_else(|| fault(a.key.span(), "this one needs a value: name=value"), Ok)
}

fn attribute(a: &KeyedAttribute) -> Result<TokenStream> {
    let name = a.key.to_string();
    let (span, e) = (a.key.span(), el());
    if let Some(event) = name.strip_prefix("on:") {
        let (event, kind, run) = (LitStr::new(event, span), kind_of(event), wanted(a)?);
        return Ok(quote_spanned! { run.span() => #e.on::<::web_sys::#kind>(#event, #run); });
    }
    if let Some(prop) = name.strip_prefix("prop:") {
        let (prop, v) = (LitStr::new(prop, span), wanted(a)?);
        return Ok(quote_spanned! { v.span() => #e.prop(#prop, #v); });
    }
    if let Some(class) = name.strip_prefix("class:") {
        let (class, v) = (LitStr::new(class, span), wanted(a)?);
        return Ok(quote_spanned! { v.span() => #e.class(#class, #v); });
    }
    if name == "node_ref" {
        let v = wanted(a)?;
        return Ok(quote_spanned! { v.span() => #e.known_as(#v); });
    }
    if name.contains(':') && !name.starts_with("xml") {
        return fault(span, "on:, prop: and class: are known here");
    }
    let lit = LitStr::new(&name, span);
    Ok(match value(a) {
        None => quote! { #e.fixed(#lit, ""); },
        Some(Expr::Lit(syn::ExprLit { lit: syn::Lit::Str(text), .. })) => quote! { #e.fixed(#lit, #text); },
        Some(v) => quote_spanned! { v.span() => #e.attr(#lit, #v); },
    })
}

/// The name of an argument and its value; a name alone stands for a variable of that name.
fn argument(a: &KeyedAttribute) -> Result<(Ident, TokenStream)> {
    let name = a.key.to_string();
    if name.contains([':', '-']) {
        return fault(a.key.span(), "a component takes arguments: name=value");
    }
    let name = Ident::new(&name, a.key.span());
    let v = value(a).map_or_else(|| quote!(#name), |v| quote!(#v));
    Ok((name, v))
}

fn path(name: &NodeName) -> Result<&syn::ExprPath> {
    match name {
        NodeName::Path(p) => Ok(p),
        other => fault(other.span(), "the name of a component is expected"),
    }
}

fn called(e: &Element) -> Result<TokenStream> {
    let name = path(e.name())?;
    if let Some(child) = e.children.first() {
        return fault(child.span(), "a component has nothing between its tags");
    }
    let mut args = TokenStream::new();
    for a in e.attributes() {
        let (name, v) = argument(keyed(a)?)?;
        args.extend(quote_spanned! { name.span() => #name: #v, });
    }
    let args = if args.is_empty() {
        args
    } else {
        quote! { #name { #args } }
    };
    Ok(quote_spanned! { name.span() => crate::dom::IntoView::into_view(#name(#args)) })
}

/// Named attributes of `<Show>` and `<For>`.
fn named<'e>(e: &'e Element, names: &[&str]) -> Result<Vec<Option<&'e KeyedAttribute>>> {
    let mut out = vec![None; names.len()];
    for a in e.attributes() {
        let a = keyed(a)?;
        let name = a.key.to_string();
        match names.iter().position(|n| *n == name || (*n == "let:" && name.starts_with("let:"))) {
            Some(i) => out[i] = Some(a),
            None => return fault(a.key.span(), &format!("known here: {}", names.join(", "))),
        }
    }
    Ok(out)
}

fn show(e: &Element, svg: bool) -> Result<TokenStream> {
    let found = named(e, &["when", "fallback"])?;
    let when = match found[0] {
        Some(a) => wanted(a)?,
        None => return fault(e.name().span(), "when= is expected"),
    };
    let then = view_of(&e.children, svg)?;
    let other = match found[1] {
        Some(a) => {
            let f = wanted(a)?;
            quote! { crate::dom::IntoView::into_view((#f)()) }
        }
        None => quote! { crate::dom::Nodes::empty() },
    };
    Ok(quote! { crate::dom::show(#when, move |yes| if yes { #then } else { #other }) })
}

fn each(e: &Element, svg: bool) -> Result<TokenStream> {
    let found = named(e, &["each", "key", "let:"])?;
    let (Some(list), Some(key), Some(item)) = (found[0], found[1], found[2]) else {
        return fault(e.name().span(), "each=, key= and let:name are expected");
    };
    let (list, key) = (wanted(list)?, wanted(key)?);
    let name = item.key.to_string();
    let item = Ident::new(name.trim_start_matches("let:"), item.key.span());
    if let KeyedAttributeValue::Binding(b) = &found[2].map_or(KeyedAttributeValue::None, |a| a.possible_value.clone()) {
        return fault(b.span(), "let:name takes no value");
    }
    let body = view_of(&e.children, svg)?;
    Ok(quote! { crate::dom::each(#list, #key, move |#item| #body) })
}
