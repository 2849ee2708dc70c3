//! A function that takes its arguments by their names: a struct of the same name holds them.

use crate::{Result, fault};
use proc_macro2::TokenStream;
use quote::quote;
use syn::spanned::Spanned;
use syn::{FnArg, ItemFn, Pat};

/// What becomes of it.
pub(crate) fn of(function: ItemFn) -> Result<TokenStream> {
    let ItemFn { attrs, vis, sig, block, .. } = function;
    if let Some(generic) = sig.generics.params.first() {
        return fault(generic.span(), "a component is of one type");
    }
    let name = &sig.ident;
    let (mut fields, mut names) = (TokenStream::new(), TokenStream::new());
    for arg in &sig.inputs {
        let FnArg::Typed(arg) = arg else { return fault(arg.span(), "a component is a function by itself") };
        let Pat::Ident(pat) = arg.pat.as_ref() else {
            return fault(arg.pat.span(), "an argument with a name is expected");
        };
        let (about, field, kind) = (&arg.attrs, &pat.ident, &arg.ty);
        fields.extend(quote! { #(#about)* #vis #field: #kind, });
        names.extend(quote! { #field, });
    }
    let about = format!("The arguments of [`{name}()`].");
    let (held, taken) = if fields.is_empty() {
        (TokenStream::new(), TokenStream::new())
    } else {
        (quote! { #[doc = #about] #vis struct #name { #fields } }, quote! { #name { #names }: #name })
    };
    Ok(quote! {
        #held
        #(#attrs)*
        #[allow(non_snake_case)]
        #vis fn #name(#taken) -> crate::dom::Nodes {
            let _still = crate::signals::Still::untracked();
            crate::dom::IntoView::into_view(#block)
        }
    })
}
